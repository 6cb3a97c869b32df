package mapfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	_ "modernc.org/sqlite" // the driver

	"driftreach/internal/intake"
	"driftreach/internal/result"
)

// packLayers returns the tables, those that are map layers first, and the network if it is wanted.
func packLayers(run *result.Run, network bool) []packLayer {
	finding := func(p *database, i int) any {
		if at := run.Findings[i].Position; result.OnEarth(at) {
			return p.point(*at)
		}
		return nil
	}
	layers := []packLayer{
		{result.StandTable(run), "MULTIPOLYGON", func(p *database, i int) any { return p.outline(run.Stands[i].Footprint) }},
		{result.ReachTable(run), "MULTILINESTRING", func(p *database, i int) any { return p.line(run.Reaches[i].Path) }},
		{result.ZoneTable(run), "MULTIPOLYGON", func(p *database, i int) any { return p.outline(run.Zones[i].Geometry) }},
		{result.PointTable(run), "POINT", func(p *database, i int) any { return p.point(run.Records.At(i).Position) }},
		{result.FindingTable(run), "POINT", finding},
		{result.SummaryTable(run, result.Summarize(run)), "", nil},
		{result.OrderTable(run), "", nil},
		{result.FollowupTable(run), "POINT", func(p *database, i int) any { return p.point(run.Visits[i].Place.Position) }},
		{result.AbsentTable(run), "MULTIPOLYGON", func(p *database, i int) any { return p.outline(run.Absent[i].Footprint) }},
		{result.SurveyedTable(run), "MULTIPOLYGON", func(p *database, i int) any { return p.polygon(run.Surveyed.At(i)) }},
		{cautionTable(run), "", nil},
	}
	if len(run.Units) > 0 {
		layers = append(layers, packLayer{result.StandUnitTable(run), "", nil})
	}
	if run.Previous != nil {
		layers = append(layers, packLayer{result.LineageTable(run), "", nil})
	}
	if parts := result.PartsOfStands(run); len(parts) > 0 {
		layers = append(layers, packLayer{result.PartTable(run), "GEOMETRY", func(p *database, i int) any {
			if parts[i].Ground == nil {
				return p.point(parts[i].At)
			}
			return p.polygon(parts[i].Ground)
		}})
	}
	if run.Stretches != nil {
		layers = append(layers, packLayer{result.SurveyNextTable(run), "MULTILINESTRING", func(p *database, i int) any { return p.line(run.Stretches[i].Line()) }})
	}
	if run.WorksGiven {
		layers = append(layers, packLayer{result.NoticeTable(run), "GEOMETRY", func(p *database, i int) any { return p.work(&run.Works[run.Notices[i].Work]) }})
	}
	if network && run.Network != nil {
		layers = append(layers, packLayer{result.NetworkTable(run), "MULTILINESTRING", func(p *database, i int) any { return p.line(run.Network.Paths.At(i)) }})
	}
	for k := range layers {
		layers[k].table = result.Layer(layers[k].table)
	}
	return layers
}

// cautionTable is what every reader of the file must know, one sentence a row.
func cautionTable(run *result.Run) result.Table {
	all := result.Cautions(run)
	return result.Table{
		Name: "cautions", Title: "What every reader of these layers must know, most binding first", Rows: len(all),
		Fields: []result.Field{{
			Name: "caution", Label: "Caution", Kind: result.Text, Definition: "One caution.",
			Value: func(_ *result.Run, i int) result.Value { return result.Value{Kind: result.Text, Text: all[i]} },
		}},
	}
}

// writeGeoPackage writes driftreach.gpkg (OGC 12-128r18, version 1.3): a typed table for each layer in
// WGS 84, titles and definitions of the fields (schema extension), cautions and origin (metadata
// extension), a spatial index, relations from stands to the rows that name them, and the colours of the
// map as styles. SQLite keeps the database in a temporary file that it deletes on closing. Only its
// cache is in memory, so memory does not grow with the file. The file contains no clock time: the
// layers are dated the quarter's last day. The network is a layer if it is wanted.
func writeGeoPackage(w io.Writer, run *result.Run, network bool) error {
	return writePack(w, run, packLayers(run, network), nil)
}

// writePack writes a database of the layers. forms are the columns to be filled in, by layer. If there
// are any, there is no spatial index, because the program in which they are filled in may lack the
// functions that its triggers call.
func writePack(w io.Writer, run *result.Run, layers []packLayer, forms map[string][]intake.Blank) error {
	// 8 MiB of cache: rows are added in order, so more would not help
	db, err := sql.Open("sqlite", "file:?_pragma=journal_mode(off)&_pragma=synchronous(off)&_pragma=cache_size(-8192)")
	if err != nil {
		return err
	}
	defer db.Close()
	db.SetMaxOpenConns(1) // each connection would have its own database
	p := &database{run: run, forms: forms, stamp: run.Quarter.End().Format(time.DateOnly) + "T00:00:00.000Z"}
	conn, err := db.Conn(context.Background())
	if err != nil {
		return err
	}
	defer conn.Close()
	if p.tx, err = conn.BeginTx(context.Background(), nil); err != nil {
		return err
	}
	if err := p.fill(layers); err != nil {
		return errors.Join(fmt.Errorf("make the GeoPackage: %w", err), p.tx.Rollback())
	}
	if err := p.tx.Commit(); err != nil {
		return err
	}
	return writePages(w, conn)
}

// writePages writes the database page by page: the file is its pages in order.
func writePages(w io.Writer, conn *sql.Conn) error {
	rows, err := conn.QueryContext(context.Background(), "SELECT data FROM sqlite_dbpage ORDER BY pgno")
	if err != nil {
		return err
	}
	defer rows.Close()
	var page sql.RawBytes
	for rows.Next() {
		if err := rows.Scan(&page); err != nil {
			return err
		}
		if _, err := w.Write(page); err != nil {
			return err
		}
	}
	return rows.Err()
}

func (p *database) fill(layers []packLayer) error {
	for _, statement := range packSchema {
		if err := p.exec(statement); err != nil {
			return err
		}
	}
	for _, layer := range layers {
		if err := p.layer(layer); err != nil {
			return fmt.Errorf("layer %s: %w", layer.table.Name, err)
		}
	}
	for _, step := range []func([]packLayer) error{p.relate, p.styles, p.metadata} {
		if err := step(layers); err != nil {
			return err
		}
	}
	return p.constrain()
}

// layer creates and fills one table and adds it to the contents.
func (p *database) layer(l packLayer) error {
	columns := columnNames(l)
	if _, err := p.tx.Exec(createTable(l, columns, p.forms[l.table.Name])); err != nil {
		return err
	}
	p.box = box{}
	if err := p.insert(l, columns); err != nil {
		return err
	}
	kind, system := "attributes", any(nil)
	if l.geometry != "" {
		kind, system = "features", wgs84ID
	}
	edges := [4]any{}
	if p.box.any {
		for k, n := range [4]int64{p.box.west, p.box.south, p.box.east, p.box.north} {
			edges[k] = float64(n) / perDegree
		}
	}
	name := l.table.Name
	if _, err := p.tx.Exec(`INSERT INTO gpkg_contents VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		name, kind, name, l.table.Title, p.stamp, edges[0], edges[1], edges[2], edges[3], system); err != nil {
		return err
	}
	if l.geometry != "" {
		if _, err := p.tx.Exec(`INSERT INTO gpkg_geometry_columns VALUES (?, 'geom', ?, ?, 0, 0)`, name, l.geometry, wgs84ID); err != nil {
			return err
		}
	}
	for k, f := range l.table.Fields {
		if _, err := p.tx.Exec(`INSERT INTO gpkg_data_columns VALUES (?, ?, ?, ?, ?, NULL, ?)`, name, columns[k], columns[k], f.Title(), f.Definition, constraintOf(p.forms[name], f.Name)); err != nil {
			return err
		}
	}
	return nil
}

// insert fills the table row by row.
func (p *database) insert(l packLayer, columns []string) error {
	values := make([]any, 0, len(columns)+1)
	marks := strings.Repeat("?, ", len(columns)-1) + "?"
	if l.geometry != "" {
		marks = "?, " + marks
	}
	into := quotedNames(columns)
	if l.geometry != "" {
		into = append([]string{"geom"}, into...)
	}
	statement, err := p.tx.Prepare(fmt.Sprintf("INSERT INTO %s (%s) VALUES (%s)", quotedName(l.table.Name), strings.Join(into, ", "), marks))
	if err != nil {
		return err
	}
	defer statement.Close()
	var index *sql.Stmt
	if l.geometry != "" && p.forms == nil {
		if index, err = p.beginIndex(l.table.Name); err != nil {
			return err
		}
		defer index.Close()
	}
	for i := range l.table.Rows {
		values = values[:0]
		var shape any
		if l.geometry != "" {
			shape = l.shape(p, i)
			values = append(values, shape)
		}
		p.row = l.table.Row(p.run, i, p.row)
		for _, v := range p.row {
			values = append(values, sqlValue(v))
		}
		if _, err := statement.Exec(values...); err != nil {
			return err
		}
		if index != nil && shape != nil {
			if err := p.indexRow(index, rowKey(i)); err != nil {
				return err
			}
		}
	}
	if index == nil {
		return nil
	}
	return p.endIndex(l.table.Name)
}
