package intake

import (
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/unit"
)

// Units is a file of reporting units, read but not yet checked as a batch.
type Units struct {
	File
	Units []unit.Unit
}

// RoleUnits is the name of the input of reporting units.
const RoleUnits = "units"

func unitsRole() Role {
	return Role{
		Name: RoleUnits, Is: "reporting units", System: "the units",
		Help:  "`FILE` of reporting units, areas that acreage is reported by, such as counties",
		Rules: unit.Rules, fields: unitFields, shapes: areas,
		records: kind[Units, unit.Unit]{
			open: ReadUnits,
			of:   func(f *Units) (File, []unit.Unit) { return f.File, f.Units },
			check: func(all []unit.Unit, _ Against) ([]unit.Unit, []check.Finding) {
				return unit.Check(all, unit.Options{})
			},
			file: func(u *unit.Unit) string { return u.File },
			more: func(u *unit.Unit) []string { return u.More },
			value: func(u *unit.Unit, field string) string {
				return map[string]string{"unit_id": u.ID, "unit_name": u.Name}[field]
			},
		},
	}
}

// ReadUnits returns the reporting units of a file in any format with areas, in WGS 84 degrees and in
// the order of the file, and the findings. The error is an *UnusableError when the file cannot be used.
// Cost is linear.
func ReadUnits(s format.Source, o Options) (Units, []check.Finding, error) {
	r := &unitReader{featureReader: newReader(unitFields, unitID, recognisedUnits, o)}
	if err := r.readFile(s, r.take); err != nil {
		return Units{}, nil, err
	}
	if r.features > 0 && r.wrongKind == r.features {
		return Units{}, nil, r.Unusable("", "no feature is an area", "name a file of reporting units, drawn as polygons")
	}
	return Units{File: r.file, Units: r.found}, r.Log.Findings(), nil
}

// The fields of a reporting unit, by their index in unitFields.
const (
	unitID = iota
	unitName
)

// unitFields are the columns of reporting units. Case does not matter.
var unitFields = []column.Field{
	unitID:   {Name: "unit_id"},
	unitName: {Name: "unit_name"},
}

// recognisedUnits are names of columns in layers of counties, basins and parcels
// [C].
var recognisedUnits = []column.Recognised{
	column.Elsewhere("unit_id", column.Different, "id", "geoid", "fips", "countyfp", "huc12", "huc10", "huc8", "apn", "parcelid", "parcelno", "districtid", "basinid", "code", "objectid", "globalid", "fid"),
	column.Elsewhere("unit_name", column.Anything, "name", "namelsad", "label", "title", "county", "district", "basin", "watershed", "unit"),
}

// unitReader turns features into reporting units.
type unitReader struct {
	featureReader
	found []unit.Unit
	slab  slab
}

// take turns one feature into a unit.
func (r *unitReader) take(f *format.Feature) error {
	if r.Tabular() && r.GeometryColumn < 0 {
		return r.Unusable("", "the file is a table without a column of areas", "give the areas as well-known text in a column called WKT, or as another format")
	}
	p, ok := r.shaped(f, areas, &r.slab)
	if !ok {
		return nil
	}
	r.file.Read++
	r.found = append(grown(&r.featureReader, r.found), unit.Unit{
		ID: r.identity(f), Name: r.store.keep(r.columns.Cell(f, unitName)), File: r.Name, Row: f.Row, Areas: p.areas,
	})
	return nil
}
