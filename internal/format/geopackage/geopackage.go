// Package geopackage reads the layers and tables of GeoPackages. It uses SQLite only to read stored
// columns of tables.
package geopackage

import (
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
	"modernc.org/sqlite/vfs"

	"driftreach/internal/format"
	"driftreach/internal/format/wellknown"
)

// Format is GeoPackage.
type Format struct{}

// Traits implements format.
func (Format) Traits() format.Traits { return format.Traits{Name: "GeoPackage"} }

// Is implements format.
func (Format) Is(_ *format.Reading, d *format.Document) bool {
	return d.Begins("SQLite format 3\x00")
}

// Read reads the only layer, or the layer that was named.
func (Format) Read(r *format.Reading, d *format.Document, take func(*format.Feature) error) error {
	if log, err := d.Beside(".gpkg-wal"); err == nil {
		n, _ := io.Copy(io.Discard, io.LimitReader(log, 1))
		log.Close()
		if n > 0 {
			return r.Unusable("", "another program has the file open and has changes that are not in it yet (a -wal file is beside it)", "close the program, or save a copy from it")
		}
	}
	at, size, err := d.All()
	if err != nil {
		return err
	}
	if err := checkPages(r, at, size); err != nil {
		return err
	}
	pages := newPageTree(at, size)
	if err := pages.check(1); err != nil {
		return r.Unusable("", "the GeoPackage is damaged: "+err.Error(), "copy it again, or save the layer to a new one")
	}
	one := oneFile{io.NewSectionReader(at, 0, size), new(error)}
	name, files, err := vfs.New(one)
	if err != nil {
		return fmt.Errorf("cannot open %s: %w", r.Name, err)
	}
	defer files.Close()
	db, err := sql.Open("sqlite", "file:"+oneFileName+"?vfs="+name+"&mode=ro&immutable=1&_pragma=trusted_schema(0)&_pragma=query_only(1)&_pragma=cell_size_check(1)")
	if err != nil {
		return fmt.Errorf("cannot open %s: %w", r.Name, err)
	}
	defer db.Close()
	conn, err := onlyReading(db)
	if err != nil {
		return fmt.Errorf("cannot open %s: %w", r.Name, err)
	}
	defer conn.Close()
	r.Encoding = "UTF-8"
	g := reader{Reading: r, conn: conn, pages: pages, size: size, patience: longestPrepared}
	for _, step := range []func() error{g.tables, g.choose, g.refer, g.columns, func() error { return g.rows(take) }} {
		if err := step(); err != nil {
			return g.fault(err, *one.failed)
		}
	}
	return nil
}

// checkPages refuses a file that is shorter than its header says. SQLite would read the missing part as
// blank (https://www.sqlite.org/fileformat.html, section 1.3.8).
func checkPages(r *format.Reading, at io.ReaderAt, size int64) error {
	var head [100]byte
	if _, err := at.ReadAt(head[:], 0); err != nil && err != io.EOF {
		return err
	}
	page := pageSize(head)
	pages := int64(binary.BigEndian.Uint32(head[28:]))
	if current := string(head[24:28]) == string(head[92:96]); !current {
		pages = 0
	}
	if size < 100 || page < 512 || size%page != 0 || size < page*pages {
		return r.Unusable("", "the GeoPackage is cut off", "copy it again")
	}
	return nil
}

// fault turns a database error into an unusable file. failed is the error of reading the file itself.
func (g *reader) fault(err, failed error) error {
	var unusable *format.UnusableError
	switch {
	case failed != nil:
		return failed
	case g.refused != nil:
		return g.refused
	case errors.As(err, &unusable):
		return err
	}
	place := ""
	if g.Feature.Row > 0 {
		place = fmt.Sprintf("after feature %d", g.Feature.Row)
	}
	return g.Unusable(place, "the GeoPackage cannot be read: "+format.ShortenTo(err.Error(), 120), "copy it again, or save the layer to a new one")
}

// choose finds the table to read: the one that was named, else the only one with geometries, else the
// only table. Tables without geometries count too, such as control work that names its stands.
func (g *reader) choose() error {
	layers, tables, err := g.contents()
	if err != nil {
		return err
	}
	if g.Layer != "" {
		layers = append(layers, tables...)
	} else if len(layers) == 0 {
		layers = tables
	}
	var names []string
	for _, t := range layers {
		names = append(names, t.name)
		if g.Layer == "" || strings.EqualFold(g.Layer, t.name) {
			g.from = t
		}
	}
	switch all := format.ShortenTo(strings.Join(names, ", "), 200); {
	case len(names) == 0:
		return g.Unusable("", "the GeoPackage has no layer of features", "save the layer, not a view of it, as GeoPackage")
	case g.from.name == "":
		return g.Unusable("", fmt.Sprintf("the GeoPackage has no layer %q; it has %s", format.Shorten(g.Layer), all), "name one after a colon, as in "+g.File()+":"+names[0])
	case g.Layer == "" && len(names) > 1:
		return g.Unusable("", "the GeoPackage has several layers: "+all, "name one after a colon, as in "+g.File()+":"+names[0])
	}
	return nil
}

// contents lists the layers and the tables without geometries, by name. It leaves out views and the
// tables in which programs keep their own data, such as styles.
func (g *reader) contents() (layers, tables []layer, err error) {
	list, err := g.stored("gpkg_contents")
	if err == nil && list == nil {
		err = g.Unusable("", "the SQLite database is no GeoPackage: it has no table gpkg_contents", "save the layer as GeoPackage")
	}
	if err != nil {
		return nil, nil, err
	}
	shapes, err := g.shapeColumns()
	if err != nil {
		return nil, nil, err
	}
	err = g.each(list, []string{"table_name", "data_type"}, func(v []any) error {
		t := layer{name: asText(v[0])}
		if _, stands := g.roots[strings.ToLower(t.name)]; !stands || t.name == "ogr_empty_table" || t.name == "layer_styles" {
			return nil
		}
		switch kind := asText(v[1]); {
		case kind == "features" && shapes[t.name].shape != "":
			layers = append(layers, shapes[t.name])
		case kind == "attributes" || kind == "aspatial":
			tables = append(tables, t)
		}
		if len(layers)+len(tables) > g.Limits.Members {
			return g.tooManyTables()
		}
		return nil
	})
	byName := func(a, b layer) int { return strings.Compare(a.name, b.name) }
	slices.SortFunc(layers, byName)
	slices.SortFunc(tables, byName)
	return layers, tables, err
}

// shapeColumns returns the geometry columns by table.
func (g *reader) shapeColumns() (map[string]layer, error) {
	list, err := g.stored("gpkg_geometry_columns")
	if err != nil {
		return nil, err
	}
	all := map[string]layer{}
	err = g.each(list, []string{"table_name", "column_name", "srs_id"}, func(v []any) error {
		system, _ := v[2].(int64)
		all[asText(v[0])] = layer{asText(v[0]), asText(v[1]), system}
		return nil
	})
	return all, err
}

// refer sets the reference system of the layer.
func (g *reader) refer() error {
	if g.from.shape == "" {
		return nil // any positions are in columns
	}
	if g.from.system == 0 || g.from.system == -1 { // undefined, by the standard
		return g.AssumeSystem("", orb.Bound{})
	}
	list, err := g.stored("gpkg_spatial_ref_sys")
	if err != nil {
		return err
	}
	text, code := "", ""
	err = g.each(list, []string{"srs_id", "organization", "organization_coordsys_id", "definition"}, func(v []any) error {
		if id, ok := v[0].(int64); ok && id == g.from.system && code == "" {
			text, code = strings.TrimSpace(asText(v[3])), asText(v[1])+":"+asText(v[2])
		}
		return nil
	})
	place := "layer " + g.from.name
	switch {
	case err != nil:
		return err
	case code == "":
		return g.AssumeSystem("", orb.Bound{})
	case text != "" && !strings.EqualFold(text, "undefined"):
		return g.Reading.Refer(place, text)
	}
	return g.Reading.Refer(place, code)
}

// rowKeys are usual names of a table's key column, which holds no data.
var rowKeys = []string{"fid", "ogc_fid", "objectid", "id"}

// columns finds the table's columns.
func (g *reader) columns() (err error) {
	if g.table, err = g.stored(g.from.name); err != nil {
		return err
	}
	found := g.from.shape == "" // a stored geometry column, not a computed one, which could be anything
	for _, name := range g.table.columns {
		found = found || strings.EqualFold(name, g.from.shape)
		if strings.EqualFold(name, g.from.shape) || slices.Contains(g.table.keys, name) && slices.Contains(rowKeys, strings.ToLower(name)) && !g.Bound(name) {
			continue
		}
		g.names = append(g.names, name)
		g.Schema.Add(name)
		if len(g.names) > g.Limits.Columns {
			return g.Unusable("", fmt.Sprintf("%d columns are more than the limit", len(g.names)), "remove columns, or raise limits.columns")
		}
	}
	if found {
		return nil
	}
	return g.Unusable("layer "+g.from.name, "the layer has no stored column "+format.Shorten(g.from.shape)+" of geometries", "save the layer to a new GeoPackage")
}

// rows reads the layer in the order of its keys.
func (g *reader) rows(take func(*format.Feature) error) error {
	return g.each(g.table, append([]string{g.from.shape}, g.names...), func(values []any) error {
		g.Begin()
		g.geometry(values[0])
		for i, v := range values[1:] {
			g.value(i, v)
		}
		if len(g.Layout.Text) > g.Limits.RecordBytes {
			return g.Unusable(format.RowName(g.Feature.Row+1), "the texts of a feature are longer than the limit", "shorten them, or raise limits.record_mb")
		}
		g.refused = take(g.Finish())
		return g.refused
	})
}

func (g *reader) value(column int, v any) {
	switch v := v.(type) {
	case string:
		g.Put(column, g.Charset.Fix([]byte(v)))
	case []byte:
		// a blob in a text column is ignored
	case int64:
		g.Put(column, strconv.AppendInt(nil, v, 10))
	case float64:
		if !math.IsNaN(v) {
			g.PutNumber(column, v)
		}
	}
}

// geometry reads the GeoPackage header and the well-known binary after it.
func (g *reader) geometry(v any) {
	s := &g.Feature.Shape
	blob, ok := v.([]byte)
	if !ok || len(blob) == 0 {
		if v != nil && !ok {
			s.Wrong = "the geometry is no GeoPackage binary"
		}
		return
	}
	if len(blob) < 8 || string(blob[:2]) != "GP" || blob[3]&0x20 != 0 {
		s.Wrong = "the geometry is no GeoPackage binary"
		return
	}
	envelopes := [...]int{0, 32, 48, 48, 64}
	flags := int(blob[3])
	kind := flags >> 1 & 7
	if kind >= len(envelopes) || 8+envelopes[kind] > len(blob) {
		s.Wrong = "the geometry's envelope is none"
		return
	}
	wellknown.ReadBinary(blob[8+envelopes[kind]:], s, g.Limits.Vertices)
	if flags&0x10 != 0 { // the flag for an empty geometry
		s.Points, s.Parts, s.Polygons = s.Points[:0], s.Parts[:0], s.Polygons[:0]
	}
}
