package format

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/paulmach/orb"

	"driftreach/internal/check"
)

func reading() *Reading {
	return &Reading{Name: "in/a.shp:finds", Layer: "finds", Limits: DefaultLimits(), Log: &check.Log{}, Traits: Traits{Name: "GPX"}}
}

// told is what was found about a file: code, field, value and message of each finding.
func told(r *Reading) string {
	var lines []string
	for _, f := range r.Log.Findings() {
		lines = append(lines, fmt.Sprintf("%s %s %s|%s|%s", f.File, f.Rule.Code, f.Field, f.Value, f.Message))
	}
	return strings.Join(lines, "\n")
}

// TestUnusable: a message names the file as the user did, the place and what was found.
func TestUnusable(t *testing.T) {
	r := reading()
	var unusable *UnusableError
	if err := r.Unusable("row 7", "it is wrong", "mend it"); err.Error() != "in/a.shp:finds, row 7: it is wrong" || !errors.As(err, &unusable) || unusable.Remedy != "mend it" {
		t.Error(err)
	}
	if err := r.Unusable("", "it is wrong", "mend it"); err.Error() != "in/a.shp:finds: it is wrong" {
		t.Error(err)
	}
	if r.File() != "in/a.shp" || RowName(12) != "row 12" {
		t.Errorf("%s, %s", r.File(), RowName(12))
	}
	if r.ReportFile(RuleEncoding, "f", "v", "a message"); told(r) != "in/a.shp:finds encoding-assumed f|v|a message" {
		t.Error(told(r))
	}
}

// TestShorten: 80 letters of a text, not bytes, and dots behind them where there were more; bytes that
// are no letter are shown as such.
func TestShorten(t *testing.T) {
	for n, cut := range map[int]bool{79: false, 80: false, 81: true} {
		want := strings.Repeat("ä", min(n, 80))
		if cut {
			want += "..."
		}
		if got := Shorten(strings.Repeat("ä", n)); got != want {
			t.Errorf("%d letters: %s", n, got)
		}
	}
	for text, want := range map[string]string{"": "", "ab": "ab", "abc": "ab...", "\xffbc": "\ufffdb..."} {
		if got := ShortenTo(text, 2); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// TestSystems: the system the user names comes before the file's, which is told where it is another;
// what a format fixes comes before both; and each message has its remedy.
func TestSystems(t *testing.T) {
	const zone, nad = "EPSG:32633", "EPSG:26911"
	steps := func(do ...func(*Reading) error) (*Reading, error) {
		r := reading()
		for _, step := range do {
			if err := step(r); err != nil {
				return r, err
			}
		}
		return r, nil
	}
	ask := func(s string) func(*Reading) error { return func(r *Reading) error { return r.Ask(s) } }
	refer := func(s string) func(*Reading) error { return func(r *Reading) error { return r.Refer(".prj", s) } }
	fixed := func(r *Reading) error { r.Fixed(); return nil }
	assume := func(box orb.Bound) func(*Reading) error {
		return func(r *Reading) error { return r.AssumeSystem("head", box) }
	}
	const other, assumed = "in/a.shp:finds reference-system-other ", "in/a.shp:finds reference-system-assumed ||the file names no reference system; its positions were read as WGS 84 degrees"
	for _, c := range []struct {
		name  string
		steps []func(*Reading) error
		asked bool
		told  string // its beginning
	}{
		{"nothing", []func(*Reading) error{ask("")}, false, ""},
		{"asked", []func(*Reading) error{ask(zone)}, true, ""},
		{"asked twice the same", []func(*Reading) error{ask(zone), refer(zone)}, true, ""},
		{"the file has another", []func(*Reading) error{ask(zone), refer(" EPSG:4326 ")}, true, other + "|EPSG:4326|the file names another reference system; the one asked for was used"},
		{"the file has none that can be read", []func(*Reading) error{ask(zone), refer("nonsense")}, true, other + "|nonsense|"},
		{"the file's own", []func(*Reading) error{refer(zone)}, false, ""},
		{"a datum beside WGS 84", []func(*Reading) error{refer(nad)}, false, "in/a.shp:finds datum-taken-as-wgs84 |"},
		{"asked for such a datum", []func(*Reading) error{ask(nad)}, true, "in/a.shp:finds datum-taken-as-wgs84 |"},
		{"fixed", []func(*Reading) error{fixed}, true, ""}, {"fixed as asked", []func(*Reading) error{ask("EPSG:4326"), fixed}, true, ""},
		{"fixed otherwise", []func(*Reading) error{ask(zone), fixed}, true, other + "|"},
		{"assumed", []func(*Reading) error{assume(orb.Bound{})}, false, assumed}, {"asked, so not assumed", []func(*Reading) error{ask(zone), assume(orb.Bound{Max: orb.Point{1e6, 1e6}})}, true, ""},
		{"assumed to the limits", []func(*Reading) error{assume(orb.Bound{Min: orb.Point{-360, -90}, Max: orb.Point{360, 90}})}, false, assumed},
	} {
		r, err := steps(c.steps...)
		if got := told(r); err != nil || r.Asked != c.asked || !strings.HasPrefix(got, c.told) || c.told == "" && got != "" {
			t.Errorf("%s: asked %v, told %s, %v", c.name, r.Asked, got, err)
		}
	}
	named := "name the file's system with --points-crs, --streams-crs and so on, as in EPSG:26911 or as a .prj file; or convert the file to WGS 84 longitude and latitude"
	prj := "put its .prj file beside it, or name its system with --points-crs, --streams-crs and so on, as in EPSG:26911"
	for _, c := range []struct {
		step                 func(*Reading) error
		place, found, remedy string
	}{
		{ask("nonsense"), "", "the reference system asked for cannot be used: ", named}, {refer("nonsense"), ".prj", "", named},
		{assume(orb.Bound{Min: orb.Point{-360.1, 0}}), "head", "the file names no reference system, and its coordinates are not degrees", prj}, {assume(orb.Bound{Max: orb.Point{360.1, 0}}), "head", "the file names no", prj},
		{assume(orb.Bound{Min: orb.Point{0, -90.1}}), "head", "the file names no", prj}, {assume(orb.Bound{Max: orb.Point{0, 90.1}}), "head", "the file names no", prj},
		{refer(`GEOGCS["NAD27",DATUM["North_American_Datum_1927",SPHEROID["Clarke 1866",6378206.4,294.9786982]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]`), ".prj", "", "convert the file to WGS 84 longitude and latitude with a program that applies the shift"},
	} {
		_, err := steps(c.step)
		var unusable *UnusableError
		if !errors.As(err, &unusable) || unusable.Place != c.place || !strings.HasPrefix(unusable.Found, c.found) || !strings.HasPrefix(unusable.Remedy, c.remedy) {
			t.Errorf("%v, want %s: %s; %s", err, c.place, c.found, c.remedy)
		}
	}
	for definition, want := range map[string]string{"": "WGS 84", "EPSG:4326": "WGS 84", zone: "WGS 84 / UTM zone 33N"} {
		r := reading()
		if err := r.Ask(definition); err != nil || r.SystemName() != want {
			t.Errorf("%s is called %s, %v", definition, r.SystemName(), err)
		}
	}
}

// TestToDegrees: positions of a zone to a billionth of a degree; what is no number, and 0 0, as it is;
// degrees as they are written. The zone's middle is at 15 degrees and 500 km by its
// definition; 0.123456 m east of it at 45.15 degrees are 1.571 millionths of a degree, on a parallel of 4505.8 km.
func TestToDegrees(t *testing.T) {
	r := reading()
	if err := r.Ask("EPSG:32633"); err != nil {
		t.Fatal(err)
	}
	s := Shape{Points: []orb.Point{{500000, 0}, {0, 0}, {math.NaN(), 1}, {1, math.NaN()}, {math.Inf(1), 1}, {1, math.Inf(-1)}, {500000.123456, 5000000}}}
	r.Degrees(&s)
	if s.Points[0] != (orb.Point{15, 0}) || s.Points[1] != (orb.Point{}) || !math.IsNaN(s.Points[2][0]) || !math.IsNaN(s.Points[3][1]) || !math.IsInf(s.Points[4][0], 1) || !math.IsInf(s.Points[5][1], -1) || s.Wrong != "" {
		t.Errorf("%v, %s", s.Points, s.Wrong)
	}
	if p := s.Points[6]; p[0] != math.Round(p[0]*1e9)/1e9 || p[1] != math.Round(p[1]*1e9)/1e9 || math.Abs(p[0]-15.000001571) > 1e-9 || p[1] < 45.1 || p[1] > 45.2 {
		t.Errorf("%v", p)
	}
	s = Shape{Points: []orb.Point{{1e9, 1e9}, {2e9, 1e9}}}
	if r.Degrees(&s); s.Wrong != "the position 1000000000, 1000000000 lies outside WGS 84 / UTM zone 33N" {
		t.Errorf("outside: %q", s.Wrong)
	}
	for _, definition := range []string{"", "EPSG:4326"} {
		r := reading()
		s := Shape{Points: []orb.Point{{0.12345678901234, 200}}}
		if err := r.Ask(definition); err != nil {
			t.Fatal(err)
		}
		if r.Degrees(&s); s.Points[0] != (orb.Point{0.12345678901234, 200}) || s.Wrong != "" {
			t.Errorf("%s: %v, %s", definition, s.Points, s.Wrong)
		}
	}
}

// TestInput: bytes are counted, hashed and told as they come; one more than the limit ends it, and an
// error names the file. The hash of "abc" is that of FIPS 180-2, appendix B.1.
func TestInput(t *testing.T) {
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	var progress []int64
	source := Source{Name: "a.csv", Progress: func(n int64) { progress = append(progress, n) }}
	in := NewInput(source, iotest.OneByteReader(strings.NewReader("abc")), 3)
	if text, err := io.ReadAll(in); string(text) != "abc" || err != nil || in.Bytes != 3 || in.Sum() != abc || !slices.Equal(progress, []int64{1, 2, 3}) {
		t.Errorf("%q, %v, %d bytes, %s, %v", text, err, in.Bytes, in.Sum(), progress)
	}
	_, err := io.ReadAll(NewInput(source, strings.NewReader("abc"), 2))
	var unusable *UnusableError
	if !errors.As(err, &unusable) || *unusable != (UnusableError{"a.csv", "byte 2", "the file is larger than the limit", "split the file, or raise limits.file_mb"}) {
		t.Errorf("a byte too many: %+v", err)
	}
	broken := errors.New("broken")
	if _, err := io.ReadAll(NewInput(Source{Name: "a.csv"}, iotest.ErrReader(broken), 2)); !errors.Is(err, broken) || err.Error() != "cannot read a.csv: broken" {
		t.Error(err)
	}

	r := reading()
	r.Limits.Bytes = 3
	side := NewSidecar(io.NopCloser(iotest.OneByteReader(strings.NewReader("abc"))), ".dbf", r)
	if _, err := side.Read(make([]byte, 1)); err != nil {
		t.Error(err)
	}
	if side.Finish(r); !slices.Equal(r.Parts, []Part{{".dbf", abc, 3}}) {
		t.Errorf("%+v", r.Parts)
	}
	r.Limits.Bytes = 2
	_, err = io.ReadAll(NewSidecar(io.NopCloser(bytes.NewReader([]byte("abc"))), ".dbf", r))
	if !errors.As(err, &unusable) || unusable.Place != ".dbf" || unusable.Found != "the .dbf is larger than the limit" || unusable.Remedy != "split the file, or raise limits.file_mb" {
		t.Errorf("a sidecar too long: %v", err)
	}
}
