package intake

import (
	"strings"

	"driftreach/geo"
	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/stream"
)

// Barriers is a file of point barriers, read but not yet checked as a batch.
type Barriers struct {
	File
	Structures []stream.Structure
}

// RoleBarriers is the name of the input of point barriers.
const RoleBarriers = "barriers"

func barriersRole() Role {
	return Role{
		Name: RoleBarriers, Is: "barriers that are not in the streams file", System: "the barriers",
		Help:  "`FILE` of barriers, points: dams, reservoirs, weirs and culverts that are not in the streams file",
		Rules: stream.StructureRules, Digest: digestOf(stream.DigestStructures), fields: barrierFields, shapes: pointsOrAreas,
		records: kind[Barriers, stream.Structure]{
			open: ReadBarriers,
			of:   func(f *Barriers) (File, []stream.Structure) { return f.File, f.Structures },
			check: func(all []stream.Structure, _ Against) ([]stream.Structure, []check.Finding) {
				return stream.CheckStructures(all, stream.Options{})
			},
			file:  func(s *stream.Structure) string { return s.File },
			value: barrierValue,
		},
	}
}

// barrierValue returns the value of a barrier's field, as it was understood.
func barrierValue(s *stream.Structure, field string) string {
	switch field {
	case "barrier_id":
		return s.ID
	case "kind":
		return string(s.Kind)
	case "barrier_pass":
		return numberText(float64(s.Pass))
	}
	return positionText(s.Position, field)
}

// ReadBarriers returns the barriers of a file of any format, in WGS 84 degrees and in the
// order of the file, and the findings. The position comes from the geometry (for an area such
// as a reservoir, a place inside it) or from the columns. The error is an *UnusableError when
// the file cannot be used. Cost is linear.
func ReadBarriers(s format.Source, o Options) (Barriers, []check.Finding, error) {
	r := &barrierReader{featureReader: newReader(barrierFields, barrierID, recognisedBarriers, o)}
	r.kinds = o.Mapping.Words("kind")
	if err := r.readFile(s, r.take); err != nil {
		return Barriers{}, nil, err
	}
	noColumns := !r.columns.Has(barrierLon) || !r.columns.Has(barrierLat)
	switch {
	case r.Tabular() && noColumns && r.GeometryColumn < 0:
		return Barriers{}, nil, r.Unusable("header", "there are no columns for longitude and latitude among: "+format.Shorten(strings.Join(r.Schema.Names, ", ")),
			"name the columns decimalLongitude and decimalLatitude, or map them under [columns.barriers]")
	case r.features > 0 && r.wrongKind == r.features:
		return Barriers{}, nil, r.Unusable("", "no feature is a point or an area", "name a file of barriers, drawn as points")
	}
	return Barriers{File: r.file, Structures: r.found}, r.Log.Findings(), nil
}

// The fields of a barrier, by their index in barrierFields.
const (
	barrierID = iota
	barrierKind
	barrierPass
	barrierLon
	barrierLat
)

// barrierFields are the columns of barriers. Case does not matter.
var barrierFields = []column.Field{
	barrierID: {Name: "barrier_id", Also: []string{"gpx:name"}},
	barrierKind: {Name: "kind", Also: []string{"barrier", "gpx:type"}, Words: column.Theirs{
		"dam": {"damweir", "embankment"}, "weir": {"sill", "lowheaddam", "dropstructure", "gradecontrol"},
		"culvert": {"pipe", "crossing", "pipeculvert", "boxculvert"}, "reservoir": {"lake", "impoundment", "pond"},
	}},
	barrierPass: {Name: "barrier_pass", In: cell.Share},
	barrierLon:  pointFields[pointLon],
	barrierLat:  pointFields[pointLat],
}

// recognisedBarriers are names of columns in registers of dams and crossings
// [C].
var recognisedBarriers = []column.Recognised{
	column.Elsewhere("barrier_id", column.Different, "id", "nidid", "damid", "culvertid", "structureid", "objectid", "globalid", "fid", "name"),
	column.Elsewhere("kind", column.FewWords, "type", "structure", "structuretype", "barriertype", "damtype", "category"),
	column.Elsewhere("barrier_pass", column.Numbers, "pass", "passshare", "passability", "passage"),
}

// barrierReader turns features into barriers.
type barrierReader struct {
	featureReader
	found []stream.Structure
	kinds map[string]string
	slab  slab
}

// take turns one feature into a barrier.
func (r *barrierReader) take(f *format.Feature) error {
	if r.rejectFeature(f, pointsOrAreas) {
		return nil
	}
	b := stream.Structure{ID: r.identity(f), File: r.Name, Row: f.Row, Pass: geo.Share(r.number(f, barrierPass))}
	if f.Shape.Kind == format.NoShape && !r.position(f, [2]int{barrierLon, barrierLat}, &b.Position) {
		return nil
	}
	if f.Shape.Kind != format.NoShape {
		if len(f.Shape.Points) > 1 && !areas.has(f.Shape.Kind) {
			r.reject(f, ruleMalformed, "geometry", f.Shape.Name, "the barrier has several positions")
			return nil
		}
		p, ok := r.placesOf(f, &r.slab)
		if !ok {
			return nil
		}
		if b.Position = f.Shape.Points[0]; len(p.areas) > 0 {
			b.Position = placeInside(p.areas)
		}
	}
	if text := r.columns.Cell(f, barrierKind); len(text) > 0 {
		word := translate(r.kinds, r.store.keep(text))
		b.Kind = stream.Barrier(word)
		known, _ := stream.ParseBarrier(word)
		r.columns.Count(barrierKind, text, string(known))
	}
	r.file.Read++
	r.found = append(grown(&r.featureReader, r.found), b)
	return nil
}
