// Package layers has one layer of points in every format that can be read, for the tests that every
// format must pass. It also reads documents without interpreting them.
package layers

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"strings"
	"testing"

	"driftreach/internal/testkit"
)

// Form is the layer in one format.
type Form struct {
	Format string            // as in its Traits
	Within string            // for an archive, the format of its contents
	File   string            // the name of the document
	Bytes  []byte            // of the document
	Beside map[string][]byte // sidecar files, by ending
	ID     string            // the column of ids
	Layers bool              // a document may have several layers
	Cut    bool              // a document that was cut off can be recognised
}

// stored returns a file of testdata.
func stored(t testing.TB, name string) []byte {
	t.Helper()
	return testkit.Stored(t, name)[0]
}

// Forms returns the layer in every format, as other programs wrote it (testdata/intake by GDAL,
// scripts/oracle_formats.sh; testdata/parquet by two writers, scripts/oracle_parquet.mjs). Only the
// spreadsheet is our own; its cells are those of the CSV file.
func Forms(t testing.TB) []Form {
	t.Helper()
	text := stored(t, "intake/text.csv")
	table := map[string][]byte{}
	for _, ending := range []string{".dbf", ".prj", ".cpg"} {
		table[ending] = stored(t, "intake/feet"+ending)
	}
	return []Form{
		{Format: "GeoPackage", File: "feet.gpkg", Bytes: stored(t, "intake/feet.gpkg"), ID: "occurrenceID", Layers: true, Cut: true},
		{Format: "GeoParquet", File: "feet.parquet", Bytes: stored(t, "parquet/feet.parquet"), ID: "occurrenceID", Layers: true, Cut: true},
		{Format: "Shapefile", File: "feet.shp", Bytes: stored(t, "intake/feet.shp"), Beside: table, ID: "occurrence", Cut: true},
		{Format: "spreadsheet", File: "book.xlsx", Bytes: book(t, text), ID: "occurrenceID", Layers: true, Cut: true},
		{Format: "archive", Within: "KML", File: "map.kmz", Bytes: stored(t, "intake/map.kmz"), ID: "occurrenceID", Cut: true},
		{Format: "archive", Within: "Shapefile", File: "zipped.shz", Bytes: stored(t, "intake/zipped.shz"), ID: "occurrence", Cut: true},
		{Format: "GeoJSON", File: "points.geojson", Bytes: stored(t, "intake/points.geojson"), ID: "occurrenceID", Cut: true},
		{Format: "GPX", File: "waypoints.gpx", Bytes: stored(t, "intake/waypoints.gpx"), ID: "occurrenceID", Layers: true, Cut: true},
		{Format: "KML", File: "map.kml", Bytes: stored(t, "intake/map.kml"), ID: "occurrenceID", Layers: true, Cut: true},
		{Format: "CSV", File: "text.csv", Bytes: text, ID: "occurrenceID"},
	}
}

// FormOf returns the layer in one format.
func FormOf(t testing.TB, format string) Form {
	t.Helper()
	for _, f := range Forms(t) {
		if f.Format == format {
			return f
		}
	}
	t.Fatalf("there is no layer in the format %s", format)
	return Form{}
}

// book makes a workbook of one sheet, Finds, with the cells of a CSV text (ECMA-376).
func book(t testing.TB, text []byte) []byte {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var sheet strings.Builder
	for i, row := range rows {
		fmt.Fprintf(&sheet, `<row r="%d">`, i+1)
		for k, cell := range row {
			fmt.Fprintf(&sheet, `<c r="%c%d" t="inlineStr"><is><t>`, 'A'+k, i+1)
			xml.EscapeText(&sheet, []byte(cell))
			sheet.WriteString(`</t></is></c>`)
		}
		sheet.WriteString(`</row>`)
	}
	return Book(sheet.String(), nil)
}
