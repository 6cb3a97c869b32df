package parquet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
	"driftreach/internal/format/wellknown"
)

// geoParquet is the part of the metadata under "geo" that is used (GeoParquet 1.1, file metadata).
type geoParquet struct {
	Primary string                      `json:"primary_column"`
	Columns map[string]geoParquetColumn `json:"columns"`
}

type geoParquetColumn struct {
	Encoding string          `json:"encoding"`
	CRS      json.RawMessage `json:"crs"`
	Box      []float64       `json:"bbox"`
	Covering struct {
		Box map[string][]string `json:"bbox"`
	} `json:"covering"`
}

// choose finds the geometry column: the one that the user named after a colon, else the primary one. A
// table without one may have its positions in columns.
func (p *file) choose() error {
	var geo geoParquet
	if text := p.meta.texts["geo"]; text != nil {
		if err := json.Unmarshal(text, &geo); err != nil {
			return p.Unusable("footer", "what the file says of its geometries cannot be read: "+format.ShortenTo(err.Error(), 80), "save the layer again as GeoParquet or GeoPackage")
		}
	}
	p.describe(&geo)
	name := geo.Primary
	if p.Layer != "" {
		name = p.Layer
		if _, ok := geo.Columns[name]; !ok {
			return p.Unusable("", fmt.Sprintf("the file has no column of geometries %q; it has %s", format.Shorten(name), geo.names()), "name one after a colon, or none for the first")
		}
	}
	for other, c := range geo.Columns { // a set: the order does not matter
		p.skipped = append(p.skipped, other)
		for _, path := range c.Covering.Box {
			if len(path) > 1 {
				p.skipped = append(p.skipped, path[0])
			}
		}
	}
	if len(geo.Columns) == 0 {
		return nil
	}
	c, ok := geo.Columns[name]
	if !ok {
		return p.Unusable("footer", fmt.Sprintf("the primary column %q of geometries is not described", format.Shorten(name)), "save the layer again as GeoParquet or GeoPackage")
	}
	if err := p.referTo(name, c); err != nil {
		return err
	}
	return p.shapes(name, c.Encoding)
}

func (g *geoParquet) names() string {
	var names []string
	for name := range g.Columns { // sorted below
		names = append(names, name)
	}
	slices.Sort(names)
	if len(names) == 0 {
		return "none"
	}
	return format.ShortenTo(strings.Join(names, ", "), 200)
}

// describe looks for geometries in files without the key "geo": columns of Parquet's own geometry type,
// or columns of bytes with a usual name.
func (p *file) describe(geo *geoParquet) {
	if len(geo.Columns) > 0 {
		return
	}
	geo.Columns = map[string]geoParquetColumn{}
	for _, leaf := range p.leaves {
		if len(leaf.path) != 1 || leaf.physical != parquetBytes {
			continue
		}
		c := geoParquetColumn{Encoding: "WKB"}
		switch meaning := leaf.meaning; {
		case meaning.kind == parquetGeometry && meaning.system != "":
			c.CRS, _ = json.Marshal(meaning.system)
		case meaning.kind == parquetGeometry: // the format's default is OGC:CRS84
		case !meaning.annotate && slices.Contains(wellknown.ColumnNames, strings.ToLower(leaf.name())):
			c.CRS = json.RawMessage("null")
		default:
			continue
		}
		geo.Columns[leaf.name()] = c
		if geo.Primary == "" {
			geo.Primary = leaf.name()
		}
	}
}

// referTo sets the reference system of the column: OGC:CRS84 if none is given, unknown if it is null.
func (p *file) referTo(name string, c geoParquetColumn) error {
	switch text := strings.TrimSpace(string(c.CRS)); {
	case text == "":
		return p.Refer("column "+name, "OGC:CRS84")
	case text == "null":
		box := orb.Bound{}
		if n := len(c.Box); n == 4 || n == 6 {
			box = orb.Bound{Min: orb.Point{c.Box[0], c.Box[1]}, Max: orb.Point{c.Box[n/2], c.Box[n/2+1]}}
		}
		return p.AssumeSystem("", box)
	case text[0] == '"': // Parquet's own type: a code; "srid:" and a code; or "projjson:" and the metadata key of a definition
		var code string
		json.Unmarshal(c.CRS, &code)
		if number, ok := strings.CutPrefix(code, "srid:"); ok {
			code = "EPSG:" + number
		}
		if key, ok := strings.CutPrefix(code, "projjson:"); ok && p.meta.texts[key] != nil {
			code = string(p.meta.texts[key])
		}
		return p.Refer("column "+name, code)
	default:
		return p.Refer("column "+name, text)
	}
}

// isGeometry says whether a column holds geometries or their bounding boxes.
func (p *file) isGeometry(l leaf) bool { return slices.Contains(p.skipped, l.path[0]) }

// shapes prepares to read the geometry column.
func (p *file) shapes(name, encoding string) error {
	found := []int{}
	for i, leaf := range p.leaves {
		if leaf.path[0] == name {
			found = append(found, i)
		}
	}
	native, known := nativeShapes[strings.ToLower(encoding)]
	single := len(found) == 1 && p.leaves[found[0]].physical == parquetBytes && p.leaves[found[0]].repetition == 0
	switch {
	case p.meta.rows == 0: // a column of a table without rows may have another type
		return nil
	case single && strings.EqualFold(encoding, "WKB"):
		p.geometry = &wellKnown{p.column(found[0]), p.Limits.Vertices}
		return nil
	case single && strings.EqualFold(encoding, "WKT"): // as written before GeoParquet 1.0
		p.geometry = &wellKnownText{p.column(found[0]), p.Limits.Vertices}
		return nil
	case known:
		return p.native(name, native, found)
	}
	return p.Unusable("column "+format.Shorten(name), fmt.Sprintf("geometries encoded as %q are not read", format.Shorten(encoding)), "save the layer with geometries as WKB")
}

// wellKnown reads geometries as well-known binary.
type wellKnown struct {
	from  *column
	limit int
}

func (g *wellKnown) shape(s *format.Shape) error {
	e, err := g.from.take()
	if err != nil {
		return fmt.Errorf("geometries: %w", err)
	}
	if e.definition == g.from.definition && len(e.value.bytes) > 0 {
		wellknown.ReadBinary(e.value.bytes, s, g.limit)
	}
	return nil
}

// wellKnownText reads geometries as well-known text.
type wellKnownText struct {
	from  *column
	limit int
}

func (g *wellKnownText) shape(s *format.Shape) error {
	e, err := g.from.take()
	if err != nil {
		return fmt.Errorf("geometries: %w", err)
	}
	if text := bytes.TrimSpace(e.value.bytes); e.definition == g.from.definition && len(text) > 0 {
		wellknown.ReadText(text, s, g.limit)
	}
	return nil
}
