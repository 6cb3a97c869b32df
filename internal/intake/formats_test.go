package intake

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// onDisk returns the source of a file, as a command makes it.
func onDisk(name, layer string) format.Source {
	size := int64(0)
	if info, err := os.Stat(name); err == nil {
		size = info.Size()
	}
	return format.Source{
		Name: name, Layer: layer, Size: size,
		Open: func() (io.ReadCloser, error) { return os.Open(name) },
		Beside: func(ending string) (io.ReadCloser, error) {
			return os.Open(strings.TrimSuffix(name, filepath.Ext(name)) + ending)
		},
	}
}

// write writes a file of the test's own folder.
func write(t testing.TB, name string, content []byte) string {
	t.Helper()
	if err := os.WriteFile(name, content, 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// surveyGeoJSON is twenty records with awkward texts, in southern California.
func surveyGeoJSON() string {
	var features []string
	for i := range 20 {
		status := []string{"untreated", "treated", "resprout", "standing_dead"}[i%4]
		features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{"occurrenceID":"r%02d","eventDate":"2026-07-%02d","management_status":%q,"patch_area_m2":%g,"canopy_cover_percent":%d,"recordedBy":"Zoë, \"M\"","parcel":"<b>&amp; %d"},"geometry":{"type":"Point","coordinates":[%.7f,%.7f]}}`,
			i, 1+i, status, 12.5+float64(i)/4, 5*i, i, -118.3+0.0123457*float64(i), 34.1+0.0076543*float64(i%7)))
	}
	return `{"type":"FeatureCollection","features":[` + strings.Join(features, ",\n") + `]}`
}

// linesGeoJSON is four lines, one of two parts.
const linesGeoJSON = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"stream_id":"s1","waterBody":"Río Ancho","stream_order":3,"bankfull_width_m":12.5,"from_node":"a","to_node":"b"},"geometry":{"type":"LineString","coordinates":[[-118.2,34.1],[-118.21,34.12],[-118.22,34.11]]}},
{"type":"Feature","properties":{"stream_id":"s2","waterBody":"Side, Water","stream_order":1,"bankfull_width_m":null,"from_node":"c","to_node":"b"},"geometry":{"type":"LineString","coordinates":[[-118.1,34.0],[-118.15,34.05]]}},
{"type":"Feature","properties":{"stream_id":"s3","waterBody":null,"stream_order":2,"bankfull_width_m":4,"from_node":"d","to_node":"e"},"geometry":{"type":"MultiLineString","coordinates":[[[-118.3,34.2],[-118.31,34.21]],[[-118.31,34.21],[-118.32,34.2],[-118.33,34.25]]]}}
]}`

// written describes a file written by GDAL.
type written struct {
	file    string
	options []string
	layer   string
	only    string // the reference system it can have; blank for any
}

var writtenFiles = []written{
	{"a.geojson", []string{"-f", "GeoJSON", "-lco", "RFC7946=NO"}, "", ""},
	{"a.geojsonl", []string{"-f", "GeoJSONSeq"}, "", "EPSG:4326"},
	{"a.gpkg", []string{"-f", "GPKG"}, "", ""},
	{"a.gpkg", []string{"-f", "GPKG", "-nln", "finds"}, "finds", ""},
	{"a.shp", []string{"-f", "ESRI Shapefile", "-lco", "ENCODING=UTF-8"}, "", ""},
	{"a.shp", []string{"-f", "ESRI Shapefile", "-lco", "ENCODING=ISO-8859-1"}, "", ""},
	{"a.shz", []string{"-f", "ESRI Shapefile"}, "", ""},
	{"a.csv", []string{"-f", "CSV", "-lco", "GEOMETRY=AS_WKT", "-lco", "SEPARATOR=SEMICOLON"}, "", ""},
	{"a.kml", []string{"-f", "LIBKML"}, "", "EPSG:4326"},
	{"a.kmz", []string{"-f", "LIBKML"}, "", "EPSG:4326"},
	{"a.kml", []string{"-f", "KML"}, "", "EPSG:4326"},
	{"a.gpx", []string{"-f", "GPX", "-dsco", "GPX_USE_EXTENSIONS=YES"}, "", "EPSG:4326"},
}

// systemsWritten are reference systems of every method, feet among them.
var systemsWritten = []string{"EPSG:4326", "EPSG:4269", "EPSG:26911", "EPSG:2229", "EPSG:5070", "EPSG:3857", "EPSG:32611", "EPSG:3413"}

// cutNames maps names to their shortened forms where a Shapefile's ten letters leave names that
// begin alike.
var cutNames = map[string]string{"occurrenceID": "occurrence", "patch_area_m2": "patch_area", "canopy_cover_percent": "canopy_cov"}

// gdal writes the text with GDAL as w in a system.
func gdal(t *testing.T, text string, w written, system string) string {
	t.Helper()
	dir := t.TempDir()
	from, to := write(t, filepath.Join(dir, "from.geojson"), []byte(text)), filepath.Join(dir, w.file)
	testkit.Translate(t, to, from, append(slices.Clone(w.options), "-t_srs", system)...)
	return to
}

// definition returns a system as a user gives it: its code, or a .prj file for an unknown code.
func definition(t *testing.T, system string) string {
	if system != "EPSG:2229" {
		return system
	}
	out, err := exec.Command("gdalsrsinfo", "-o", "wkt_esri", system).Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// everywhere runs do for every format and system.
func everywhere(t *testing.T, do func(t *testing.T, w written, system string)) {
	t.Helper()
	inThese(t, func(written, string) bool { return true }, do)
}

// inTurn runs do for every format and for every system, but not for all pairs: enough for inputs
// read in the same way as points and centerlines.
func inTurn(t *testing.T, do func(t *testing.T, w written, system string)) {
	t.Helper()
	inThese(t, func(w written, system string) bool {
		return system == "EPSG:26911" || w.file == "a.gpkg" && w.layer == ""
	}, do)
}

// inThese runs do for the wanted formats and systems, and for formats with a fixed system.
func inThese(t *testing.T, wanted func(w written, system string) bool, do func(t *testing.T, w written, system string)) {
	t.Helper()
	testkit.NeedGDAL(t)
	for i, w := range writtenFiles {
		for _, system := range systemsWritten {
			if w.only != "" && w.only != system || w.file == "a.geojson" && system == "EPSG:2229" { // a code without its definition
				continue
			}
			if w.only == "" && !wanted(w, system) {
				continue
			}
			if testing.Short() && w.only == "" && system != "EPSG:26911" { // one system of each format is enough for a quick look
				continue
			}
			t.Run(fmt.Sprintf("%d %s %s", i, w.file, system), func(t *testing.T) { do(t, w, system) })
		}
	}
}

// TestPointsOfGDAL: the same layer in every format and reference system gives
// the same records, positions within 1 cm. GDAL is the reference program.
func TestPointsOfGDAL(t *testing.T) {
	text := surveyGeoJSON()
	want, _, _ := readPoints(t, text, testOptions())
	everywhere(t, func(t *testing.T, w written, system string) {
		o := testOptions()
		if w.file == "a.csv" {
			o.CRS = definition(t, system)
		}
		if strings.HasPrefix(w.file, "a.sh") {
			o.Mapping.Columns = single(cutNames)
		}
		p, findings, err := ReadPoints(onDisk(gdal(t, text, w, system), w.layer), o)
		if err != nil {
			t.Fatal(err)
		}
		if n := check.Count(findings, check.Error) + check.Count(findings, check.Warning); n > 0 {
			t.Errorf("%d troubles: %v", n, findings)
		}
		got := survey.Examine(p.Records, survey.DefaultOptions(quarter)).Records
		samePoints(t, want, got)
	})
}

// samePoints compares records, positions within 1 cm.
func samePoints(t *testing.T, want, got []survey.Record) {
	t.Helper()
	ours := cmp.Options{
		cmpopts.EquateNaNs(), equateNaN[geo.Meters](), cmpopts.IgnoreFields(survey.Record{}, "File"), cmpopts.IgnoreFields(survey.Notes{}, "Extra"),
		cmp.Transformer("told", survey.PackedNotes.Unpack),
		cmp.Comparer(func(a, b orb.Point) bool { return near(a, b) }),
	}
	if diff := cmp.Diff(want, got, ours); diff != "" {
		t.Errorf("other records than from GeoJSON (-GeoJSON +this):\n%.3000s", diff)
	}
}

// near says whether two positions in degrees are within 1 cm: a degree is at
// most 111.7 km.
func near(a, b orb.Point) bool {
	return math.Hypot(a[0]-b[0], a[1]-b[1])*111_700 < 0.01
}

// TestLinesOfGDAL is TestPointsOfGDAL for centerlines.
func TestLinesOfGDAL(t *testing.T) {
	want, _, _ := readStreams(t, linesGeoJSON, testOptions())
	if len(want) != 4 {
		t.Fatalf("%d lines", len(want))
	}
	everywhere(t, func(t *testing.T, w written, system string) {
		o := testOptions()
		if w.file == "a.csv" {
			o.CRS = definition(t, system)
		}
		if w.file == "a.gpx" {
			w.options = append(slices.Clone(w.options), "-nlt", "MULTILINESTRING", "-lco", "FORCE_GPX_TRACK=YES")
		}
		s, findings, err := ReadStreams(onDisk(gdal(t, linesGeoJSON, w, system), w.layer), o)
		if err != nil {
			t.Fatal(err)
		}
		if n := check.Count(findings, check.Error) + check.Count(findings, check.Warning); n > 0 {
			t.Errorf("%d troubles: %v", n, findings)
		}
		got, _ := stream.Check(s.Centerlines, stream.Options{})
		ours := cmp.Options{
			equateNaNs, cmpopts.IgnoreFields(stream.Centerline{}, "File"),
			cmp.Comparer(func(a, b orb.LineString) bool { return slices.EqualFunc(a, b, near) }),
		}
		if diff := cmp.Diff(want, got, ours); diff != "" {
			t.Errorf("other lines than from GeoJSON (-GeoJSON +this):\n%.3000s", diff)
		}
	})
}

// drawnGeoJSON is a patch of two polygons, one with a hole.
const drawnGeoJSON = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"occurrenceID":"d","eventDate":"2026-07-01"},"geometry":{"type":"MultiPolygon","coordinates":[
[[[-118.2,34.1],[-118.199,34.1],[-118.199,34.101],[-118.2,34.101],[-118.2,34.1]],[[-118.1998,34.1002],[-118.1998,34.1005],[-118.1995,34.1005],[-118.1995,34.1002],[-118.1998,34.1002]]],
[[[-118.195,34.1],[-118.194,34.1],[-118.194,34.101],[-118.195,34.1]]]]}}]}`

// TestPatchesOfGDAL: drawn patches keep their holes in every format.
func TestPatchesOfGDAL(t *testing.T) {
	testkit.NeedGDAL(t)
	want, _, _ := readPoints(t, drawnGeoJSON, testOptions())
	for _, w := range writtenFiles {
		if w.file == "a.gpx" { // has no polygons
			continue
		}
		t.Run(w.file, func(t *testing.T) {
			o := testOptions()
			o.Mapping.Columns = single(map[string]string{"occurrenceID": "occurrence"})
			if !strings.HasPrefix(w.file, "a.sh") {
				o.Mapping.Columns = nil
			}
			p, _, err := ReadPoints(onDisk(gdal(t, drawnGeoJSON, w, "EPSG:4326"), w.layer), o)
			if err != nil || len(p.Records) != 1 {
				t.Fatalf("%d records, %v", len(p.Records), err)
			}
			if got := rings(p.Records[0].Outline); got != rings(want[0].Outline) || !near(p.Records[0].Position, want[0].Position) {
				t.Errorf("rings %s at %v, want %s at %v", got, p.Records[0].Position, rings(want[0].Outline), want[0].Position)
			}
		})
	}
}

// rings describes polygons by the number of vertices of their rings.
func rings(outline orb.MultiPolygon) string {
	text := ""
	for _, polygon := range outline {
		for _, ring := range polygon {
			text += fmt.Sprint(len(ring), " ")
		}
		text += "| "
	}
	return text
}

// TestArchive reads the files in an archive by layer, and checks the limits for archives.
func TestArchive(t *testing.T) {
	pack := func(members map[string]string) []byte {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		names := slices.Sorted(func(yield func(string) bool) {
			for name := range members { // sorted
				if !yield(name) {
					return
				}
			}
		})
		for _, name := range names {
			w, err := z.Create(name)
			if err != nil {
				t.Fatal(err)
			}
			io.WriteString(w, members[name])
		}
		if err := z.Close(); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	csv := header + "\na,1,2,2026-07-01\n"
	bomb := header + "\n" + strings.Repeat("a,1,2,2026-07-01,"+strings.Repeat(" ", 1000)+"\n", 40_000)
	for _, c := range []struct {
		name, layer string
		members     map[string]string
		records     int
		found       string
	}{
		{"one", "", map[string]string{"readme.pdf": "x", "../../etc/finds.csv": csv, "__MACOSX/._finds.csv": "x"}, 1, ""},
		{"by layer", "two", map[string]string{"one.csv": csv, "two.csv": csv + "b,1,2,2026-07-01\n"}, 2, ""},
		{"several", "", map[string]string{"one.csv": csv, "two.csv": csv}, 0, "several layers: one, two"},
		{"another layer", "three", map[string]string{"one.csv": csv, "two.csv": csv}, 0, `no layer "three"; it has one, two`},
		{"a workbook", "", map[string]string{"xl/workbook.xml": "<workbook/>", "[Content_Types].xml": "<Types/>"}, 0, "the spreadsheet does not say where its sheets are"},
		{"a binary workbook", "", map[string]string{"xl/workbook.bin": "x", "[Content_Types].xml": "<Types/>"}, 0, "the file is a spreadsheet in binary form"},
		{"several of one name", "", map[string]string{"a/one.csv": csv, "b/one.csv": csv}, 0, "several layers: a/one.csv, b/one.csv"},
		{"one of one name", "b/one.csv", map[string]string{"a/one.csv": csv, "b/one.csv": csv}, 1, ""},
		{"none", "", map[string]string{"one.pdf": "x"}, 0, "no member that can be read"},
		{"geodatabase", "", map[string]string{"a.gdb/gdb": "x", "a.gdb/a00000001.gdbtable": "x"}, 0, "a file geodatabase"},
		{"archive in it", "", map[string]string{"one.csv": string(pack(map[string]string{"x.csv": csv}))}, 0, "another archive"},
		{"bomb", "", map[string]string{"one.csv": bomb}, 0, "times its size"},
		{"empty", "", map[string]string{}, 0, "no member"},
		{"many", "", map[string]string{"1": "", "2": "", "3": "", "4": "", "5": "", "6": ""}, 0, "more than the limit of 5"},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := testOptions()
			o.Limits.Members = 5
			s := testkit.Source("a.zip", bytes.NewReader(pack(c.members)))
			s.Layer = c.layer
			p, _, err := ReadPoints(s, o)
			var unusable *format.UnusableError
			switch {
			case c.found == "" && (err != nil || len(p.Records) != c.records):
				t.Errorf("%d records, %v", len(p.Records), err)
			case c.found != "" && (!errors.As(err, &unusable) || !strings.Contains(unusable.Found, c.found)):
				t.Errorf("error %v, want %q", err, c.found)
			}
		})
	}
}

// TestBeside: a Shapefile's table counts among the files read, and missing parts are reported.
func TestBeside(t *testing.T) {
	testkit.NeedGDAL(t)
	file := gdal(t, surveyGeoJSON(), written{"a.shp", []string{"-f", "ESRI Shapefile"}, "", ""}, "EPSG:26911")
	without := func(ending string) format.Source {
		s := onDisk(file, "")
		beside := s.Beside
		s.Beside = func(e string) (io.ReadCloser, error) {
			if e == ending {
				return nil, fs.ErrNotExist
			}
			return beside(e)
		}
		return s
	}
	p, findings, err := ReadPoints(without(""), testOptions())
	if err != nil || len(p.Parts) != 3 || !strings.Contains(codes(findings), "column-cut-short") || p.System != "NAD_1983_UTM_Zone_11N" {
		t.Errorf("%v of %q, parts %v, %s", err, p.System, p.Parts, codes(findings))
	}
	if _, _, err := ReadPoints(without(".prj"), testOptions()); err == nil || !strings.Contains(err.Error(), "names no reference system") {
		t.Errorf("without .prj: %v", err)
	}
	o := testOptions()
	o.CRS = "EPSG:26911"
	if p, _, err := ReadPoints(without(".prj"), o); err != nil || len(p.Records) != 20 || math.Abs(p.Records[0].Position[0]+118.3) > 1e-6 {
		t.Errorf("with --points-crs: %v, %d records", err, len(p.Records))
	}
	if p, _, err := ReadPoints(without(".dbf"), testOptions()); err != nil || len(p.Records) != 20 {
		t.Errorf("without .dbf: %v, %d records", err, len(p.Records))
	}
}

// equateNaNs lets columns that are both not recorded be the same.
var equateNaNs = cmp.Options{
	cmpopts.EquateNaNs(), equateNaN[geo.Meters](), equateNaN[geo.Share](), equateNaN[geo.MetersPerSecond](), equateNaN[geo.SquareKilometers](), equateNaN[geo.CubicMetersPerSecond](),
}

// equateNaN lets two values that are both not recorded be the same.
func equateNaN[U ~float64]() cmp.Option {
	return cmp.Comparer(func(a, b U) bool { return a == b || a != a && b != b })
}
