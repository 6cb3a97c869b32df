package intake

import (
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/stream"
)

// Water is a file of water surfaces, read but not yet checked as a batch.
type Water struct {
	File
	Surfaces []stream.Surface
}

// RoleWater is the name of the input of water surfaces.
const RoleWater = "water"

func waterRole() Role {
	return Role{
		Name: RoleWater, Is: "lakes and wide rivers", System: "the water surfaces",
		Help:  "`FILE` of water surfaces, areas: lakes and wide rivers, whose edge is the bank",
		Rules: stream.SurfaceRules, Digest: digestOf(stream.DigestSurfaces), fields: waterFields, shapes: areas,
		records: kind[Water, stream.Surface]{
			open: ReadWater,
			of:   func(f *Water) (File, []stream.Surface) { return f.File, f.Surfaces },
			check: func(all []stream.Surface, _ Against) ([]stream.Surface, []check.Finding) {
				return stream.CheckSurfaces(all, stream.Options{})
			},
			file: func(s *stream.Surface) string { return s.File },
			value: func(s *stream.Surface, field string) string {
				return map[string]string{"water_id": s.ID, "waterBody": s.Name, "kind": string(s.Kind)}[field]
			},
		},
	}
}

// ReadWater returns the lakes and wide rivers of a file in any format with areas, in WGS 84 degrees and
// in the order of the file, and the findings. The error is an *UnusableError when the file cannot be
// used. Cost is linear.
func ReadWater(s format.Source, o Options) (Water, []check.Finding, error) {
	r := &waterReader{featureReader: newReader(waterFields, waterID, recognisedWater, o)}
	r.kinds = o.Mapping.Words("kind")
	if err := r.readFile(s, r.take); err != nil {
		return Water{}, nil, err
	}
	if r.features > 0 && r.wrongKind == r.features {
		return Water{}, nil, r.Unusable("", "no feature is an area", "name a file of lakes and rivers drawn as polygons")
	}
	return Water{File: r.file, Surfaces: r.found}, r.Log.Findings(), nil
}

// The fields of a water surface, by their index in waterFields.
const (
	waterID = iota
	waterBody
	waterKind
)

// waterFields are the columns of water surfaces. Case does not matter.
var waterFields = []column.Field{
	waterID:   {Name: "water_id"},
	waterBody: {Name: "waterBody"},
	waterKind: {Name: "kind", Words: column.Theirs{"lake": nil, "river": nil}},
}

// recognisedWater are names of columns in layers of lakes and river areas [C].
var recognisedWater = []column.Recognised{
	column.Elsewhere("water_id", column.Different, "comid", "permanent_identifier", "nhdplusid", "id", "objectid", "globalid", "fid"),
	column.Elsewhere("waterBody", column.Anything, "gnis_name", "name", "label", "lake", "river"),
	column.Elsewhere("kind", column.FewWords, "ftype", "fcode", "type", "feature_type", "category"),
}

// waterReader turns features into water surfaces.
type waterReader struct {
	featureReader
	found []stream.Surface
	kinds map[string]string
	slab  slab
}

// take turns one feature into a surface.
func (r *waterReader) take(f *format.Feature) error {
	if r.Traits.Name == "CSV" && r.GeometryColumn < 0 {
		return r.Unusable("", "the file is CSV without a column of areas", "give the areas as well-known text in a column called WKT, or as another format")
	}
	p, ok := r.shaped(f, areas, &r.slab)
	if !ok {
		return nil
	}
	r.file.Read++
	s := stream.Surface{ID: r.identity(f), Name: r.store.keep(r.columns.Cell(f, waterBody)), File: r.Name, Row: f.Row, Areas: p.areas}
	if text := r.columns.Cell(f, waterKind); len(text) > 0 {
		word := translate(r.kinds, r.store.keep(text))
		s.Kind = stream.SurfaceKind(word)
		kind, _ := stream.ParseSurfaceKind(word)
		r.columns.Count(waterKind, text, string(kind))
	}
	r.found = append(grown(&r.featureReader, r.found), s)
	return nil
}
