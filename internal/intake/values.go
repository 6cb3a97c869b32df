package intake

import (
	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/valued"
)

// Values is a file of valued places, read but not yet checked as a batch.
type Values struct {
	File
	Places []valued.Place
}

// RoleValues is the name of the input of valued places.
const RoleValues = "values"

func valuesRole() Role {
	return Role{
		Name: RoleValues, Is: "places that count in a plan", System: "the places that count",
		Help:  "`FILE` of places that count, points, lines or areas with a weight, such as a spring, a refuge or an intake: a plan keeps fragments away from them",
		Rules: valued.Rules, fields: valueFields, shapes: anyShape,
		records: kind[Values, valued.Place]{
			open: ReadValues,
			of:   func(f *Values) (File, []valued.Place) { return f.File, f.Places },
			check: func(all []valued.Place, _ Against) ([]valued.Place, []check.Finding) {
				return valued.Check(all, valued.Options{})
			},
			file: func(p *valued.Place) string { return p.File },
			value: func(p *valued.Place, field string) string {
				switch field {
				case "value_id":
					return p.ID
				case "name":
					return p.Name
				case "weight":
					return numberText(p.Weight)
				}
				if len(p.Points) != 1 {
					return ""
				}
				return positionText(p.Points[0], field)
			},
		},
	}
}

// ReadValues returns the places of a file of any format, in WGS 84 degrees and in the order of
// the file, and the findings; a row without geometry takes its position from the columns. The
// error is an *UnusableError when the file cannot be used. Cost is linear.
func ReadValues(s format.Source, o Options) (Values, []check.Finding, error) {
	r := &valueReader{featureReader: newReader(valueFields, valueID, recognisedValues, o)}
	r.AnyShape = true
	if err := r.readFile(s, r.take); err != nil {
		return Values{}, nil, err
	}
	if err := r.needPositions([2]int{valueLon, valueLat}, "values", "places that count"); err != nil {
		return Values{}, nil, err
	}
	return Values{File: r.file, Places: r.found}, r.Log.Findings(), nil
}

// The fields of a valued place, by their index in valueFields.
const (
	valueID = iota
	valueName
	valueWeight
	valueLon
	valueLat
)

// valueFields are the columns of valued places. Case does not matter.
var valueFields = []column.Field{
	valueID:     {Name: "value_id", Also: []string{"gpx:name"}},
	valueName:   {Name: "name"},
	valueWeight: {Name: "weight", In: cell.Share},
	valueLon:    pointFields[pointLon],
	valueLat:    pointFields[pointLat],
}

// recognisedValues are names of columns in layers of springs, refuges and intakes [C].
var recognisedValues = []column.Recognised{
	column.Elsewhere("value_id", column.Different, "id", "objectid", "globalid", "fid", "siteid"),
	column.Elsewhere("name", column.Anything, "title", "label", "site", "sitename"),
	column.Elsewhere("weight", column.Numbers, "value", "priority", "score", "importance", "rank"),
}

// valueReader turns features into places.
type valueReader struct {
	featureReader
	found []valued.Place
	slab  slab
}

// take turns one feature into a place.
func (r *valueReader) take(f *format.Feature) error {
	at, ok := r.columnPlace(f, [2]int{valueLon, valueLat})
	if !ok {
		return nil
	}
	v := valued.Place{ID: r.identity(f), File: r.Name, Row: f.Row, Name: r.store.keep(r.columns.Cell(f, valueName)), Weight: r.number(f, valueWeight)}
	p, ok := r.placesOf(f, &r.slab)
	if !ok {
		return nil
	}
	v.Points, v.Lines, v.Areas = append(at, p.points...), p.lines, p.areas
	r.file.Read++
	r.found = append(grown(&r.featureReader, r.found), v)
	return nil
}
