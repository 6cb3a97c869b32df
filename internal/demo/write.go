package demo

import (
	"driftreach/internal/intake"
)

// File is one file of the scenario.
type File struct {
	Name string // within the scenario's folder
	Role string // kind of input; blank for none
	Text []byte
}

// Files returns the scenario's files, with the names that its README uses.
func (s Scenario) Files() []File {
	out := append([]File{{"README.md", "", s.Readme}}, s.shared()...)
	for _, q := range s.Quarters {
		out = append(out, q.own()...)
	}
	return append(out, File{secondLooksFile, "", s.Second})
}

// secondLooksFile has what two crews found independently of each other. No batch reads it.
const secondLooksFile = "second-looks.csv"

// Inputs returns the input files of the quarter's batch.
func (q QuarterFiles) Inputs(s Scenario) []File { return append(s.shared(), q.own()...) }

// shared returns the inputs that all quarters share.
func (s Scenario) shared() []File {
	return []File{
		{"streams.geojson", intake.RoleStreams, s.Streams},
		{"barriers.geojson", intake.RoleBarriers, s.Barriers},
		{"water.geojson", intake.RoleWater, s.Water},
		{"units.geojson", intake.RoleUnits, s.Units},
	}
}

// own returns the quarter's own inputs.
func (q QuarterFiles) own() []File {
	return []File{
		{q.PointsFile(), intake.RolePoints, q.Points}, {q.SurveyedFile(), intake.RoleSurveyed, q.Surveyed},
		{q.TreatmentsFile(), intake.RoleTreatments, q.Treatments}, {q.WorksFile(), intake.RoleWorks, q.Works},
	}
}

// PointsFile returns the name of the quarter's points file.
func (q QuarterFiles) PointsFile() string { return "points-" + q.Quarter + ".csv" }

// SurveyedFile returns the name of the file with the ground surveyed in the quarter.
func (q QuarterFiles) SurveyedFile() string { return "surveyed-" + q.Quarter + ".geojson" }

// TreatmentsFile returns the name of the file of the quarter's treatments.
func (q QuarterFiles) TreatmentsFile() string { return "treatments-" + q.Quarter + ".csv" }

// WorksFile returns the name of the file with the works planned at the end of the quarter.
func (q QuarterFiles) WorksFile() string { return "works-" + q.Quarter + ".geojson" }
