package observed

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"driftreach/internal/disk"
	"driftreach/internal/format"
	"driftreach/internal/host"
	"driftreach/internal/intake"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// place is a folder for temporary files.
type place string

func (p place) Create(name string) (disk.File, error) {
	return disk.System().Create(filepath.Join(string(p), name))
}

func (p place) Open(name string) (disk.File, error) {
	return disk.System().Open(filepath.Join(string(p), name))
}

// source returns a source of a text that can be read many times.
func source(name, text string) format.Source {
	return format.Source{Name: name, Size: int64(len(text)), Open: func() (io.ReadCloser, error) {
		return io.NopCloser(bytes.NewReader([]byte(text))), nil
	}}
}

// drawPoints draws a file of points: few different ids, places and days, so that records are copies,
// look again, contradict each other or have the same id; ids that end like those made unique; rows
// without id or date, from other quarters, far off, and with words that are not known.
func drawPoints(t *rapid.T, name string) format.Source {
	of := func(label string, words ...string) string { return rapid.SampledFrom(words).Draw(t, label) }
	var text strings.Builder
	extra := of("extra", "", ",crew", ",crew,boat", ",found")
	text.WriteString("occurrenceID,decimalLongitude,decimalLatitude,eventDate,recordedBy,coordinateUncertaintyInMeters,patch_area_m2,height" + of("status", "", ",occurrenceStatus") + extra + "\n")
	status := strings.Contains(text.String(), "occurrenceStatus")
	named := of("named", "", "yes", "yes") // a file may have no id at all
	row := 0                               // where the row before begins
	for i := range rapid.IntRange(0, 40).Draw(t, "rows") {
		if i > 0 && rapid.IntRange(0, 7).Draw(t, "copy") == 0 {
			text.WriteString(text.String()[row:])
			continue
		}
		row = text.Len()
		id := of("id", "", "a", "a", "a~2", "a~2~2", "a~3", "a-b", "b", "b~2", "z9", "Z")
		if named == "" {
			id = ""
		}
		fmt.Fprintf(&text, "%s,%s,%s,%s,%s,%s,%s,%s", id,
			of("lon", "-40", "-40.00001", "-40.001", "40", "x", "-71", "-400"), of("lat", "-33", "-33.00001"),
			of("day", "", "2026-07-01", "2026-07-02", "2026-08-01", "2026-06-30", "2026-10-01", "soon"), of("by", "", "Ann", "Ben"), of("uncertainty", "", "1", "300"),
			of("patch", "", "5", "-1", "5000000"), of("height", "", "2"))
		if status {
			text.WriteString("," + of("occurrence", "", "detected", "notDetected", "maybe"))
		}
		switch extra {
		case ",found":
			text.WriteString("," + of("found", "yes", "no", "no"))
		case "":
		default:
			text.WriteString(strings.Repeat(","+of("word", "", "x", "y"), strings.Count(extra, ",")))
		}
		text.WriteString("\n")
	}
	return source(name, text.String())
}

const (
	brooks  = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"stream_id":"s"},"geometry":{"type":"LineString","coordinates":[[-40,-33.01],[-40,-32.99]]}}]}`
	oneWork = "treatment_id,decimalLongitude,decimalLatitude,date,method\nt,-40,-33,2026-07-15,foliar spray\n"
)

// drawnPatches draws a GeoJSON file of outlines and points, of few places.
func drawnPatches(t *rapid.T, name string) format.Source {
	var features []string
	for i := range rapid.IntRange(1, 9).Draw(t, "patches") {
		geometry := `{"type":"Point","coordinates":[-40,-33.001]}`
		if rapid.IntRange(0, 3).Draw(t, "drawn") > 0 {
			geometry = fmt.Sprintf(`{"type":"Polygon","coordinates":[[[-40,-33],[-40.000%d,-33],[-40,-33.0001],[-40,-33]]]}`, rapid.IntRange(1, 3).Draw(t, "width"))
		}
		day := rapid.SampledFrom([]string{`"day":"x"`, `"eventDate":"2026-07-01"`, `"eventDate":"2026-08-01"`}).Draw(t, "day")
		features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{"occurrenceID":"p%d",%s,"area":%d},"geometry":%s}`, i/2, day, i, geometry))
	}
	return source(name, `{"type":"FeatureCollection","features":[`+strings.Join(features, ",")+`]}`)
}

// drawQuarter draws the inputs of a quarter.
func drawQuarter(t *rapid.T) Inputs {
	in := Inputs{Quarter: survey.Quarter{Year: 2026, Number: 3}, Of: map[string]Files{}}
	if rapid.IntRange(0, 5).Draw(t, "streams") > 0 {
		in.Of[intake.RoleStreams] = Files{Sources: []format.Source{source("streams.geojson", brooks)}}
	}
	points := Files{Sources: []format.Source{drawPoints(t, "one/p.csv")}}
	if rapid.Bool().Draw(t, "two files") {
		points.Sources = append(points.Sources, drawPoints(t, "two/p.csv"))
	}
	if rapid.IntRange(0, 2).Draw(t, "outlines") == 0 {
		points.Sources = append(points.Sources, drawnPatches(t, "p.geojson"))
	}
	in.Of[intake.RolePoints] = points
	if rapid.Bool().Draw(t, "work") {
		in.Of[intake.RoleTreatments] = Files{Sources: []format.Source{source("work.csv", oneWork)}}
	}
	return in
}

// places gives each draw a folder of its own for temporary files.
func places(t *testing.T) func(*rapid.T) place {
	dir, draws := t.TempDir(), 0
	return func(t *rapid.T) place {
		draws++
		at := filepath.Join(dir, fmt.Sprint(draws))
		if err := disk.System().Mkdir(at); err != nil {
			t.Fatal(err)
		}
		return place(at)
	}
}

// sameNumbers compares numbers of which some are none.
var sameNumbers = cmp.Options{cmpopts.EquateEmpty(), cmp.FilterPath(
	func(p cmp.Path) bool { return p.Last().Type().Kind() == reflect.Float64 },
	cmp.Comparer(func(a, b any) bool {
		x, y := reflect.ValueOf(a).Float(), reflect.ValueOf(b).Float()
		return x == y || x != x && y != y
	}))}

// TestInTurnIsAtOnce: whatever is in the files, the records that come in turn are those that are
// read at once, to the last field, and in their order.
func TestInTurnIsAtOnce(t *testing.T) {
	s := settings.Default()
	draws, taken, at := 0, 0, places(t)
	rapid.Check(t, func(t *rapid.T) {
		in := drawQuarter(t)
		want, failed := Read(t.Context(), in, s, host.Host{})
		if failed == nil {
			failed = want.Evidence()
		}
		draws++
		r := room{rapid.IntRange(1, 3000).Draw(t, "run"), rapid.IntRange(1, 20).Draw(t, "block")}
		q, records, err := readInTurn(t.Context(), in, s, host.Host{}, at(t), r, true)
		var got []survey.Record
		if err == nil {
			err = errors.Join(records.Settle(&q, s), records.Each(func(r *survey.Record) error { got = append(got, *r); return nil }), records.Evidence())
		}
		if errors.Is(err, ErrAtOnce) {
			return // always right, and rare: counted below
		}
		if err != nil || failed != nil {
			t.Fatalf("in turn: %v; at once: %v", err, failed)
		}
		taken++
		settled, err := want.Settle(nil, s)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(settled.Records.Listed, got, sameNumbers); diff != "" {
			t.Fatalf("(-at once +in turn)\n%s", diff)
		}
		for i := range q.Files {
			if a, b := want.Files[i], q.Files[i]; a.Name != b.Name || a.Role != b.Role || a.SHA256 != b.SHA256 {
				t.Fatalf("file %d is %s, at once %s", i, b.Name, a.Name)
			}
		}
		if len(q.Files) != len(want.Files) {
			t.Fatalf("%d files, at once %d", len(q.Files), len(want.Files))
		}
	})
	if draws >= enoughDraws && 4*taken < draws {
		t.Errorf("only %d of %d quarters could be read in turn", taken, draws)
	}
}

// enoughDraws is how many quarters must be drawn before it counts which were never met: with the race
// detector a check draws one.
const enoughDraws = 100

// inMemory is a text where records are kept.
type inMemory []byte

func (m inMemory) Bytes() []byte { return m }

func putInMemory(b []byte) (survey.Text, error) { return inMemory(bytes.Clone(b)), nil }

// unkept returns a quarter with the records that it keeps in memory.
func unkept(q Quarter) Quarter {
	for i := range q.Records.Kept.Len() {
		q.Records.Listed = append(q.Records.Listed, *q.Records.Kept.At(i))
	}
	q.Records.Kept = nil
	return q
}

// TestKeptIsAtOnce: whatever is in the files, a quarter whose records are kept elsewhere as they are read
// has the records of one that is read at once, the same findings to the last word, the same totals of each
// file, columns, counts by quarter, acres that rest on what is assumed, and what is said if nothing counts; as it is read, and after its finds
// were held against its absences.
func TestKeptIsAtOnce(t *testing.T) {
	draws, taken, at := 0, 0, places(t)
	codes := map[string]bool{}
	rapid.Check(t, func(t *rapid.T) {
		in, s := drawQuarter(t), settings.Default()
		s.Survey.LargestPatch = rapid.SampledFrom([]float64{1, 1e6}).Draw(t, "largest patch")
		want, failed := Read(t.Context(), in, s, host.Host{})
		draws++
		r := room{rapid.IntRange(1, 3000).Draw(t, "run"), rapid.IntRange(1, 20).Draw(t, "block")}
		kept, err := readKept(t.Context(), in, s, host.Host{}, at(t), putInMemory, r)
		if errors.Is(err, ErrAtOnce) {
			return // always right, and rare: counted below
		}
		if err != nil || failed != nil {
			t.Fatalf("kept: %v; at once: %v", err, failed)
		}
		taken++
		for _, f := range want.Findings {
			codes[f.Rule.Code] = true
		}
		for range 2 {
			got := unkept(kept)
			if diff := cmp.Diff(want, got, sameNumbers, cmpopts.IgnoreFields(survey.Records{}, "Kept")); diff != "" {
				t.Fatalf("(-at once +kept)\n%s", diff)
			}
			if a, b := fmt.Sprint(want.Evidence()), fmt.Sprint(kept.Evidence()); a != b {
				t.Fatalf("%s, at once %s", b, a)
			}
			if diff := cmp.Diff(want.Worth(s, nil), kept.Worth(s, nil)); diff != "" {
				t.Fatalf("what is assumed (-at once +kept)\n%s", diff)
			}
			var failed error
			want, failed = want.Settle(nil, s)
			if kept, err = kept.Settle(nil, s); err != nil || failed != nil {
				t.Fatal(err, failed)
			}
		}
	})
	if draws < enoughDraws {
		return
	}
	if 4*taken < draws {
		t.Errorf("only %d of %d quarters could be read in turn", taken, draws)
	}
	for _, code := range []string{"position-sign", "position-far-off", "record-duplicate", "id-duplicate", "id-missing", "date-missing", "date-before-quarter", "date-after-quarter", "record-seen-again", "sighting-repeated", "position-coarse", "patch-implausible"} {
		if !codes[code] {
			t.Errorf("%s was never found", code)
		}
	}
}
