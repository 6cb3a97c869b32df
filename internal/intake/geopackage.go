package intake

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
	_ "modernc.org/sqlite" // the driver
	"modernc.org/sqlite/vfs"
)

// geoPackage is a GeoPackage being read (OGC 12-128r18). It is opened read-only
// through a file system of one file, so that nothing beside it is looked at and
// nothing is written; only tables are read, with geometries or without, never views, whose text could be anything.
type geoPackage struct {
	*reading
	layout
	from  geoPackageTable
	db    *sql.DB
	names []string
}

// geoPackageTable is a layer, or a table without geometries.
type geoPackageTable struct {
	name   string
	shape  string // the geometry column; blank for none
	system int64
}

// readGeoPackage reads the one layer of features, or the layer named.
func (r *reading) readGeoPackage(d *document, take func(*feature) error) error {
	if log, err := d.beside(".gpkg-wal"); err == nil {
		n, _ := io.Copy(io.Discard, io.LimitReader(log, 1))
		log.Close()
		if n > 0 {
			return r.unusable("", "another program has the file open and has changes that are not in it yet (a -wal file is beside it)", "close the program, or save a copy from it")
		}
	}
	at, size, err := d.whole()
	if err != nil {
		return err
	}
	if err := r.checkPages(at, size); err != nil {
		return err
	}
	one := oneFile{io.NewSectionReader(at, 0, size), new(error)}
	name, files, err := vfs.New(one)
	if err != nil {
		return fmt.Errorf("cannot open %s: %w", r.name, err)
	}
	defer files.Close()
	db, err := sql.Open("sqlite", "file:"+oneFileName+"?vfs="+name+"&mode=ro&immutable=1&_pragma=trusted_schema(0)&_pragma=query_only(1)&_pragma=cell_size_check(1)")
	if err != nil {
		return fmt.Errorf("cannot open %s: %w", r.name, err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	r.encoding = "UTF-8"
	g := geoPackage{reading: r, db: db}
	for _, step := range []func() error{g.choose, g.refer, g.columns, func() error { return g.rows(take) }} {
		if err := step(); err != nil {
			return g.fault(err, *one.failed)
		}
	}
	return nil
}

// checkPages refuses a file that is shorter than its header says, which SQLite
// would read as if the rest were blank (https://www.sqlite.org/fileformat.html,
// section 1.3.8).
func (r *reading) checkPages(at io.ReaderAt, size int64) error {
	var head [100]byte
	if _, err := at.ReadAt(head[:], 0); err != nil && err != io.EOF {
		return err
	}
	page := int64(binary.BigEndian.Uint16(head[16:]))
	if page == 1 { // by the format's own words
		page = 1 << 16
	}
	pages := int64(binary.BigEndian.Uint32(head[28:]))
	if current := string(head[24:28]) == string(head[92:96]); !current {
		pages = 0
	}
	if size < 100 || page < 512 || size%page != 0 || size < page*pages {
		return r.unusable("", "the GeoPackage is cut off", "copy it again")
	}
	return nil
}

// fault makes what the database says an unusable file; failed is what reading
// the file itself met.
func (g *geoPackage) fault(err, failed error) error {
	var unusable *UnusableError
	switch {
	case failed != nil:
		return failed
	case errors.As(err, &unusable):
		return err
	}
	place := ""
	if g.feature.row > 0 {
		place = fmt.Sprintf("after feature %d", g.feature.row)
	}
	return g.unusable(place, "the GeoPackage cannot be read: "+shortenTo(err.Error(), 120), "copy it again, or save the layer to a new one")
}

// tablesOf lists the layers of features, and the tables of attributes alone, such
// as control work that names its stands. The table of GDAL that is there for the
// form's sake is none.
const tablesOf = `SELECT c.table_name, coalesce(g.column_name, ''), coalesce(g.srs_id, 0) FROM gpkg_contents c
	LEFT JOIN gpkg_geometry_columns g ON g.table_name = c.table_name JOIN sqlite_schema s ON lower(s.name) = lower(c.table_name)
	WHERE (c.data_type = 'features' AND g.column_name IS NOT NULL OR c.data_type IN ('attributes', 'aspatial')) AND c.table_name <> 'ogr_empty_table'
	AND s.type = 'table' AND s.sql NOT LIKE 'CREATE VIRTUAL%' ORDER BY c.table_name`

// choose finds the table of the layer: the one named, else the only one with
// geometries, else the only one.
func (g *geoPackage) choose() error {
	query, shapes := tablesOf, 0
	if err := g.db.QueryRow("SELECT count(*) FROM sqlite_schema WHERE name = 'gpkg_geometry_columns'").Scan(&shapes); err == nil && shapes == 0 {
		query = strings.Replace(query, "gpkg_geometry_columns", "(SELECT '' table_name, NULL column_name, NULL srs_id)", 1)
	}
	rows, err := g.db.Query(query)
	if err != nil {
		return g.unusable("", "the SQLite database is no GeoPackage: "+shortenTo(err.Error(), 80), "save the layer as GeoPackage")
	}
	defer rows.Close()
	var layers, tables []geoPackageTable
	for rows.Next() {
		var t geoPackageTable
		if err := rows.Scan(&t.name, &t.shape, &t.system); err != nil {
			return err
		}
		if t.shape != "" {
			layers = append(layers, t)
		} else {
			tables = append(tables, t)
		}
		if len(layers)+len(tables) > g.limits.Members {
			return g.unusable("", "the GeoPackage has more layers than limits.members allows", "save the layer to a new one, or raise limits.members")
		}
	}
	if err := rows.Err(); err != nil {
		return err
	}
	if g.layer != "" {
		layers = append(layers, tables...)
	} else if len(layers) == 0 {
		layers = tables
	}
	var names []string
	for _, t := range layers {
		names = append(names, t.name)
		if g.layer == "" || strings.EqualFold(g.layer, t.name) {
			g.from = t
		}
	}
	switch all := shortenTo(strings.Join(names, ", "), 200); {
	case len(names) == 0:
		return g.unusable("", "the GeoPackage has no layer of features", "save the layer, not a view of it, as GeoPackage")
	case g.from.name == "":
		return g.unusable("", fmt.Sprintf("the GeoPackage has no layer %q; it has %s", shorten(g.layer), all), "name one after a colon, as in "+g.file()+":"+names[0])
	case g.layer == "" && len(names) > 1:
		return g.unusable("", "the GeoPackage has several layers: "+all, "name one after a colon, as in "+g.file()+":"+names[0])
	}
	return nil
}

// refer takes the layer's reference system.
func (g *geoPackage) refer() error {
	if g.from.shape == "" {
		return nil // positions in columns, if any
	}
	if g.from.system == 0 || g.from.system == -1 { // undefined, by the standard
		return g.assumeSystem("", orb.Bound{})
	}
	var organization, definition sql.NullString
	var number sql.NullInt64
	err := g.db.QueryRow("SELECT organization, organization_coordsys_id, definition FROM gpkg_spatial_ref_sys WHERE srs_id = ?", g.from.system).
		Scan(&organization, &number, &definition)
	if err == sql.ErrNoRows {
		return g.assumeSystem("", orb.Bound{})
	}
	if err != nil {
		return err
	}
	place := "layer " + g.from.name
	if text := strings.TrimSpace(definition.String); text != "" && !strings.EqualFold(text, "undefined") {
		return g.reading.refer(place, text)
	}
	return g.reading.refer(place, fmt.Sprintf("%s:%d", organization.String, number.Int64))
}

// rowKeys are names that programs give to the key of a row, which is no data.
var rowKeys = []string{"fid", "ogc_fid", "objectid", "id"}

// columns learns the table's columns.
func (g *geoPackage) columns() error {
	rows, err := g.db.Query("SELECT name, pk FROM pragma_table_info(?)", g.from.name)
	if err != nil {
		return err
	}
	defer rows.Close()
	stored := g.from.shape == "" // and not made up by an expression, which could be anything
	for rows.Next() {
		var name string
		var key int
		if err := rows.Scan(&name, &key); err != nil {
			return err
		}
		stored = stored || strings.EqualFold(name, g.from.shape)
		if strings.EqualFold(name, g.from.shape) || key > 0 && slices.Contains(rowKeys, strings.ToLower(name)) && !g.bound(name) {
			continue
		}
		g.names = append(g.names, name)
		g.schema.add(name)
		if len(g.names) > g.limits.Columns {
			return g.unusable("", fmt.Sprintf("%d columns are more than the limit", len(g.names)), "remove columns, or raise limits.columns")
		}
	}
	if err := rows.Err(); err != nil || stored {
		return err
	}
	return g.unusable("layer "+g.from.name, "the layer has no stored column "+shorten(g.from.shape)+" of geometries", "save the layer to a new GeoPackage")
}

func quoted(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

// rows reads the layer in the order of its keys. The sign before each column
// keeps the driver from turning texts into times.
func (g *geoPackage) rows(take func(*feature) error) error {
	query := "SELECT NULL"
	if g.from.shape != "" {
		query = "SELECT +" + quoted(g.from.shape)
	}
	for _, name := range g.names {
		query += ", +" + quoted(name)
	}
	rows, err := g.db.Query(query + " FROM " + quoted(g.from.name))
	if err != nil {
		return err
	}
	defer rows.Close()
	values := make([]any, 1+len(g.names))
	into := make([]any, len(values))
	for i := range values {
		into[i] = &values[i]
	}
	for rows.Next() {
		if err := rows.Scan(into...); err != nil {
			return err
		}
		g.begin()
		g.geometry(values[0])
		for i, v := range values[1:] {
			g.value(i, v)
		}
		if len(g.layout.text) > g.limits.RecordBytes {
			return g.unusable(rowName(g.feature.row+1), "the texts of a feature are longer than the limit", "shorten them, or raise limits.record_mb")
		}
		if err := take(g.finish()); err != nil {
			return err
		}
	}
	return rows.Err()
}

func (g *geoPackage) value(column int, v any) {
	switch v := v.(type) {
	case string:
		g.put(column, g.charset.fix([]byte(v)))
	case []byte:
		// a blob in a column of texts is none
	case int64:
		g.put(column, strconv.AppendInt(nil, v, 10))
	case float64:
		if !math.IsNaN(v) {
			g.putNumber(column, v)
		}
	}
}

// geometry reads the standard's header and the well-known binary after it.
func (g *geoPackage) geometry(v any) {
	s := &g.feature.shape
	blob, ok := v.([]byte)
	if !ok || len(blob) == 0 {
		if v != nil && !ok {
			s.wrong = "the geometry is no GeoPackage binary"
		}
		return
	}
	if len(blob) < 8 || string(blob[:2]) != "GP" || blob[3]&0x20 != 0 {
		s.wrong = "the geometry is no GeoPackage binary"
		return
	}
	envelopes := [...]int{0, 32, 48, 48, 64}
	flags := int(blob[3])
	kind := flags >> 1 & 7
	if kind >= len(envelopes) || 8+envelopes[kind] > len(blob) {
		s.wrong = "the geometry's envelope is none"
		return
	}
	w := wkbReader{bytes: blob[8+envelopes[kind]:], limit: g.limits.Vertices}
	w.read(s)
	if flags&0x10 != 0 { // empty, and said so
		s.points, s.parts, s.polygons = s.points[:0], s.parts[:0], s.polygons[:0]
	}
}
