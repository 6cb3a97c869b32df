package earlier

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
	"pgregory.net/rapid"

	"driftreach/internal/field"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// TestPropertiesAsJSON: of any flat object the names and values are those that encoding/json writes
// and reads, in the order of the text.
func TestPropertiesAsJSON(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var names []string
		var text bytes.Buffer
		want := map[string]string{}
		text.WriteByte('{')
		for i := range rapid.IntRange(0, 5).Draw(r, "properties") {
			name := rapid.StringMatching(`[a-z"\\,:{}\[\] é]{0,6}`).Draw(r, "name") + fmt.Sprint(i)
			value := rapid.OneOf(
				rapid.Map(rapid.StringMatching(`[a-z"\\,:{}\[\]\n é]{0,8}`), func(s string) any { return s }), rapid.Map(rapid.Float64(), func(f float64) any { return f }),
				rapid.Just[any](nil), rapid.Just[any](true), rapid.Just[any]([]string{"a]", `b"`, "{"}), rapid.Just[any](map[string]any{"n": []int{1, 2}, "o": map[string]string{"}": "]"}}),
			).Draw(r, "value")
			key, _ := json.Marshal(name)
			cell, err := json.Marshal(value)
			if err != nil {
				r.Skip("no JSON")
			}
			if i > 0 {
				text.WriteByte(',')
			}
			text.Write(key)
			text.WriteByte(':')
			text.Write(cell)
			names, want[name] = append(names, name), string(cell)
			if s, is := value.(string); is {
				if got, err := textOf(cell); err != nil || got != s {
					r.Fatalf("%s is the text %q, %v", cell, got, err)
				}
			} else if got, err := textOf(cell); got != "" || err != nil {
				r.Fatalf("%s is the text %q, %v", cell, got, err)
			}
		}
		text.WriteByte('}')
		at := 0
		err := eachProperty(text.Bytes(), func(name, value []byte) error {
			if at == len(names) || string(name) != names[at] || string(value) != want[names[at]] {
				r.Fatalf("%s: property %d is %q with %s", text.String(), at, name, value)
			}
			at++
			return nil
		})
		if err != nil || at != len(names) {
			r.Fatalf("%s: %d of %d properties, %v", text.String(), at, len(names), err)
		}
	})
	for _, text := range []string{"", "{", "}", "[]", `{"a"}`, `{"a":}`, `{"a":1`, `{"a":1,}`, `{"a":1}x`, `{a:1}`, `{"a" :1}`, `{"a":"x}`, `{"a":[1}`, `{"a":1,"b"}`, `{"a":1 "b":2}x`} {
		if err := eachProperty([]byte(text), func(_, _ []byte) error { return nil }); err == nil {
			t.Errorf("%q is read", text)
		}
	}
	if err := eachProperty([]byte(`{"a":1}`), func(_, _ []byte) error { return errNone }); err != errNone {
		t.Errorf("an error of who reads: %v", err)
	}
}

var errNone = fmt.Errorf("none")

// TestGeometriesAsGeoJSON: of any polygons and points as a library for GeoJSON writes them the same
// positions are read. What is no such geometry is refused.
func TestGeometriesAsGeoJSON(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		place := rapid.Custom(func(r *rapid.T) orb.Point {
			return orb.Point{float64(rapid.IntRange(-1800000, 1800000).Draw(r, "lon")) / 1e4, float64(rapid.IntRange(-900000, 900000).Draw(r, "lat")) / 1e4}
		})
		var all orb.MultiPolygon
		for range rapid.IntRange(1, 3).Draw(r, "polygons") {
			var p orb.Polygon
			for range rapid.IntRange(1, 2).Draw(r, "rings") {
				ring := orb.Ring(rapid.SliceOfN(place, 3, 6).Draw(r, "ring"))
				p = append(p, append(ring, ring[0]))
			}
			all = append(all, p)
		}
		text, err := json.Marshal(geojson.NewGeometry(all))
		if err != nil {
			r.Fatal(err)
		}
		got, err := polygonsOf(text)
		if err != nil || !cmp.Equal(got, all) {
			r.Fatalf("%s: %v, %v", text, got, err)
		}
		text, _ = json.Marshal(geojson.NewGeometry(all[0]))
		if got, err := polygonsOf(text); err != nil || !cmp.Equal(got, all[:1]) {
			r.Fatalf("%s: %v, %v", text, got, err)
		}
		text, _ = json.Marshal(geojson.NewGeometry(all[0][0][0]))
		if got, err := positionOf(text); err != nil || got != all[0][0][0] {
			r.Fatalf("%s: %v, %v", text, got, err)
		}
	})
	if got, err := polygonsOf([]byte("null")); got != nil || err != nil {
		t.Errorf("no geometry: %v, %v", got, err)
	}
	ring := "[[0,0],[1,0],[1,1],[0,0]]"
	for name, text := range map[string]string{
		"nothing": "", "a point": `{"type":"Point","coordinates":[1,2]}`, "open": `{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,1]]]}`,
		"three places": `{"type":"Polygon","coordinates":[[[0,0],[1,0],[0,0]]]}`, "no ring": `{"type":"MultiPolygon","coordinates":[[]]}`, "no end": `{"type":"Polygon","coordinates":[` + ring + `]`,
		"more": `{"type":"Polygon","coordinates":[` + ring + `]} `, "beyond": `{"type":"Polygon","coordinates":[[[0,0],[181,0],[1,1],[0,0]]]}`, "pole": `{"type":"Polygon","coordinates":[[[0,0],[1,91],[1,1],[0,0]]]}`,
		"a height": `{"type":"Polygon","coordinates":[[[0,0,1],[1,0,1],[1,1,1],[0,0,1]]]}`, "words": `{"type":"Polygon","coordinates":[[[a,0],[1,0],[1,1],[0,0]]]}`, "a bracket too few": `{"type":"MultiPolygon","coordinates":[` + ring + `]}`,
	} {
		if got, err := polygonsOf([]byte(text)); err == nil {
			t.Errorf("%s: %v", name, got)
		}
	}
	for name, text := range map[string]string{"null": "null", "an area": `{"type":"Polygon","coordinates":[` + ring + `]}`, "one number": `{"type":"Point","coordinates":[1]}`, "beyond": `{"type":"Point","coordinates":[-180.1,2]}`, "more": `{"type":"Point","coordinates":[1,2]}}`} {
		if got, err := positionOf([]byte(text)); err == nil {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// TestFeaturesByLine: each line that begins a feature is read, the last with or without a line end,
// lines longer than the buffer too; a line that is none is told by its number. By hand.
func TestFeaturesByLine(t *testing.T) {
	long := strings.Repeat("x", 3<<20)
	text := "{\"type\":\"FeatureCollection\",\"features\":[\n" +
		`{"type":"Feature","id":1,"geometry":null,"properties":{"a":1}},` + "\n" +
		`{"type":"Feature","id":2,"geometry":{"type":"Point","coordinates":[1,2]},"properties":{"a":"` + long + `"}},` + "\n" +
		`{"type":"Feature","id":3,"geometry":null,"properties":{}}`
	for _, end := range []string{"", "\n", "\n]}", "\n]}\n"} {
		var got []string
		err := features(strings.NewReader(text+end), func(head, geometry, properties []byte) error {
			got = append(got, fmt.Sprintf("%s %s %d", head, geometry, len(properties)))
			return nil
		})
		want := []string{`{"type":"Feature","id":1 null 7`, fmt.Sprintf(`{"type":"Feature","id":2 {"type":"Point","coordinates":[1,2]} %d`, len(long)+8), `{"type":"Feature","id":3 null 2`}
		if d := cmp.Diff(want, got); d != "" || err != nil {
			t.Errorf("%q at the end: %v %s", end, err, d)
		}
	}
	for _, line := range []string{`{"type":"Feature","id":1,"properties":{},"geometry":null}`, `{"type":"Feature","id":1,"geometry":null}`, `{"type":"Feature",`} {
		err := features(strings.NewReader("[\n"+line+"\n]"), func(_, _, _ []byte) error { return nil })
		if err == nil || !strings.HasPrefix(err.Error(), "line 2: ") {
			t.Errorf("%s: %v", line, err)
		}
	}
}

// TestAcresAsPrinted: printed acres as whole grains, to the tenth decimal; by hand.
func TestAcresAsPrinted(t *testing.T) {
	for text, want := range map[string]int64{"0": 0, "1": 1e10, "0.5": 5e9, "1.25": 125e8, "0.0000000001": 1, "12.3456": 123456e6, "-0.5": -5e9, "21.247542": 212475420000} {
		if got, err := grainsOf(text); err != nil || got != want {
			t.Errorf("%s acres are %d grains, %v, want %d", text, got, err, want)
		}
	}
	for _, text := range []string{"", ".5", "a", "1.00000000001", "1,5", "1e3", "1.2.3", "99999999999"} {
		if got, err := grainsOf(text); err == nil {
			t.Errorf("%q acres are %d grains", text, got)
		}
	}
}

// TestWorkReadsBack: a row of work as the dictionary writes it gives the same work; a cell that a
// program marked against formulas gives its text; each fault of a row is told by its column.
func TestWorkReadsBack(t *testing.T) {
	nan := math.NaN()
	j := result.Treatment{
		Key: "k1", CountedIn: survey.Quarter{Year: 2026, Number: 3}, Carried: true, Unit: result.UnknownUnit, Told: result.Place{Stands: []string{"a", "b"}, Waters: []string{"Alder Creek"}, UnitIDs: []string{"u1"}},
		Treatment: treatment.Treatment{
			Date: survey.Quarter{Year: 2026, Number: 3}.Begin(), StandID: "2026Q1-0001", Method: "cut stump", FormulationClass: "general", TreatedAcres: 0.25, Placed: true, Position: orb.Point{10.5, -20.25},
			Ground:      orb.MultiPolygon{{{{0, 0}, {0.5, 0}, {0.5, 0.5}, {0, 0}}}},
			Application: treatment.Application{Product: "Reed Away", Registration: "R-1", Amount: 2.5, AmountUnit: "l", Applicator: "A", Licence: "L", Start: "08:00", End: "09:30", Wind: 1.25, Temperature: 18, Hours: 1.5, Photos: "7"},
		},
	}
	run := &result.Run{Treatments: []result.Treatment{j}}
	table := result.TreatmentTable(run)
	var head, row []string
	for k, f := range table.Fields {
		head, row = append(head, f.Name), append(row, table.Cell(run, 0, k).String())
	}
	at := columnsOf(head)
	got, err := jobOf(at, row)
	if d := cmp.Diff(j, got, cmpopts.EquateNaNs(), cmpopts.IgnoreUnexported(treatment.Treatment{})); d != "" || err != nil {
		t.Errorf("%v %s", err, d)
	}
	change := func(name, cell string) []string {
		other := append([]string(nil), row...)
		other[at[name]] = cell
		return other
	}
	if got, err := jobOf(at, change(field.Product, "'=Away")); err != nil || got.Product != "=Away" {
		t.Errorf("a marked cell is %q, %v", got.Product, err)
	}
	if got, err := jobOf(at, change(field.TreatedAcres, "")); err != nil || !math.IsNaN(got.TreatedAcres) {
		t.Errorf("no acres are %v, %v, want %v", got.TreatedAcres, err, nan)
	}
	if got, err := jobOf(at, change(field.DecimalLongitude, "")); err != nil || got.Placed {
		t.Errorf("half a position is %v, %v", got.Position, err)
	}
	if got, err := jobOf(at, change(field.CountedIn, "")); err != nil || !got.CountedIn.IsZero() {
		t.Errorf("counted in no quarter: %v, %v", got.CountedIn, err)
	}
	for _, c := range [][3]string{
		{field.TreatedAcres, "much", `treated_acres: "much"`}, {field.Amount, "inf", `amount: "inf"`}, {field.Hours, "NaN", `hours: "NaN"`}, {field.Key, "", "no key"}, {field.Date, "yesterday", `date: "yesterday"`},
		{field.CountedIn, "2026Q5", `counted_in: "2026Q5"`}, {field.TreatedGround, "POINT(1 2)", "treated_ground"}, {field.TreatedGround, "MULTIPOLYGON EMPTY", "treated_ground"},
	} {
		if _, err := jobOf(at, change(c[0], c[1])); err == nil || !strings.Contains(err.Error(), c[2]) {
			t.Errorf("%s is %q: %v", c[0], c[1], err)
		}
	}
}
