package intake

import "driftreach/internal/survey"

// RolePoints is the name of the input of survey points.
const RolePoints = "points"

func pointsRole() Role {
	return Role{
		Name: RolePoints, Is: "survey points", Needed: true, Many: true, System: "the points, as in EPSG:26911, or a .prj file; without it, what the file says",
		Help: "`FILE` of survey points, repeatable: CSV, .xlsx, GeoJSON, GeoPackage, GeoParquet, Shapefile, GPX, KML, or one of them zipped; " +
			"FILE:LAYER names a layer or sheet",
		Rules: survey.Rules, fields: pointFields, shapes: pointsOrAreas, records: pointRecords{},
	}
}

// pointRecords reads survey points. Their files are merged before they are checked, so that
// every record has the carried columns of all files.
type pointRecords struct{}

func (pointRecords) read(g Given) (Taken, error) {
	files, findings, err := readFiles(g, ReadPoints)
	if err != nil {
		return Taken{}, err
	}
	records, extra := MergePoints(files)
	done := survey.Examine(records, PointRules(g.Against))
	out := Taken{
		Accepted: make([]int, len(files)), Findings: append(findings, done.Findings),
		Points: &PointsTaken{Extra: extra, Dated: done.Quarters, Aside: done.Aside},
		put:    func(h Holder) { *slot[survey.Record](h) = done.Records },
	}
	for i := range files {
		out.Files = append(out.Files, files[i].File)
	}
	return out, nil
}

// PointRules returns how records are checked as a batch.
func PointRules(g Against) survey.Options {
	rules := survey.DefaultOptions(g.Quarter)
	rules.JoinDistance, rules.Setback, rules.LargestPatch, rules.First = g.JoinDistance, g.Setback, g.LargestPatch, g.First
	return rules
}

// values does nothing: the dictionary writes the values of points.
func (pointRecords) values(Holder, string, string, func(string)) {}
