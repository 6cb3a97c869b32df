package survey

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// alongStream is a stream at 118 west, 34 north: a degree is taken for 111 km, which is
// near enough for the distances at stake.
func alongStream() Site {
	s := DefaultSite()
	s.Nearest = func(p orb.Point) geo.Meters {
		return geo.Meters(111_000 * math.Hypot(p[0]+118, p[1]-34))
	}
	s.Near = func(p orb.Point) bool { return s.Nearest(p) < s.Far/2 }
	return s
}

// TestCheckSites: expected codes by hand.
func TestCheckSites(t *testing.T) {
	for _, c := range []struct {
		name string
		at   orb.Point
		code string
		kept bool
		says string
	}{
		{"at the stream", orb.Point{-118, 34.01}, "", true, ""},
		{"15 km off", orb.Point{-118, 34.135}, "", true, ""},
		{"30 km off", orb.Point{-118, 34.27}, "position-far-off", true, "30 km from every stream"},
		{"missing minus", orb.Point{118, 34.01}, "position-sign", false, "other sign of longitude 1.1 km from one"},
		{"other hemisphere", orb.Point{-118, -34}, "position-sign", false, "other sign of latitude"},
		{"both signs", orb.Point{118, -34}, "position-sign", false, "other signs"},
		{"swapped", orb.Point{34, -118 + 40}, "position-far-off", true, "every stream"},
		{"another continent", orb.Point{10, 50}, "position-far-off", true, "every stream"},
	} {
		t.Run(c.name, func(t *testing.T) {
			kept, findings := CheckSites([]Record{{ID: "a", Position: c.at, Cover: math.NaN(), StemHeight: geo.Meters(math.NaN())}}, alongStream())
			code, message := "", ""
			for _, f := range findings {
				code, message = f.Rule.Code, f.Message
			}
			if len(kept) == 1 != c.kept || code != c.code || !strings.Contains(message, c.says) {
				t.Errorf("kept %d, %s: %s", len(kept), code, message)
			}
		})
	}
}

// TestCheckSitesSwapped: within 90 degrees both ways only the streams can tell
// that axes are exchanged.
func TestCheckSitesSwapped(t *testing.T) {
	s := DefaultSite()
	s.Nearest = func(p orb.Point) geo.Meters { return geo.Meters(111_000 * math.Hypot(p[0]-10, p[1]-50)) }
	s.Near = func(orb.Point) bool { return false }
	records := []Record{{ID: "a", Position: orb.Point{50, 10}}, {ID: "b", Position: orb.Point{10, 50}}, {ID: "c", Position: orb.Point{-50, 10}}}
	kept, findings := CheckSites(records, s)
	if len(kept) != 1 || kept[0].ID != "b" || len(findings) != 2 || findings[0].Rule.Code != "position-swapped" || findings[1].Rule.Code != "position-swapped" {
		t.Errorf("kept %v, found %v", kept, findings)
	}
}

// TestDecimals: by hand.
func TestDecimals(t *testing.T) {
	for v, want := range map[float64]int{0: 0, -118: 0, 34.5: 1, -118.25: 2, 34.123: 3, 179.9999: 4, 0.12345: 5, 34.123456: 6, 34.1234567: 7, 34.12345678: 7} {
		if got := decimals(v); got != want {
			t.Errorf("%v has %d decimals, want %d", v, got, want)
		}
	}
}

// TestCoarse: steps of 0.001 degrees are 111 m, wider than 30 m; by hand.
func TestCoarse(t *testing.T) {
	fine := func(id string) Record {
		return Record{ID: id, File: "f", Position: orb.Point{-118.123456, 34.123456}}
	}
	for _, c := range []struct {
		name    string
		records []Record
		join    geo.Meters
		want    string
	}{
		{"one coarse among fine", []Record{fine("a"), {ID: "b", File: "f", Position: orb.Point{-118.12, 34.1}}}, 30, "b"},
		{"one number fine", []Record{fine("a"), {ID: "b", File: "f", Position: orb.Point{-118.123456, 34.1}}}, 30, ""},
		{"whole file coarse", []Record{{ID: "a", File: "f", Position: orb.Point{-118.12, 34.101}}, {ID: "b", File: "f", Position: orb.Point{-118.1, 34.1}}}, 30, "a b"},
		{"four decimals, some end in zeros", []Record{{ID: "a", File: "f", Position: orb.Point{-40.0001, -33.001}}, {ID: "b", File: "f", Position: orb.Point{-40, -33.001}}}, 30, ""},
		{"coarse file beside a fine one", []Record{fine("a"), {ID: "b", File: "g", Position: orb.Point{-118.12, 34.1}}}, 30, "b"},
		{"wide join", []Record{{ID: "a", File: "f", Position: orb.Point{-118.12, 34.101}}}, 1000, ""},
		{"no check", []Record{{ID: "a", File: "f", Position: orb.Point{-118, 34}}}, 0, ""},
		{"a drawn patch", []Record{{ID: "a", File: "f", Position: orb.Point{-118, 34}, Outline: orb.MultiPolygon{{{{-118, 34}, {-117, 34}, {-117, 35}, {-118, 34}}}}}}, 30, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			for i := range c.records {
				c.records[i].Cover, c.records[i].StemHeight = math.NaN(), geo.Meters(math.NaN())
			}
			_, findings := Check(c.records, Options{JoinDistance: c.join})
			var told []string
			for _, f := range findings {
				if f.Rule.Code == "position-coarse" {
					told = append(told, f.Record)
				}
			}
			if strings.Join(told, " ") != c.want {
				t.Errorf("told of %v, want %q: %v", told, c.want, findings)
			}
		})
	}
}

// TestUncertainty: only an uncertainty above the setback is reported.
func TestUncertainty(t *testing.T) {
	for uncertainty, want := range map[geo.Meters]int{0: 0, 29: 0, 30: 0, 30.5: 1, 500: 1} {
		r := Record{ID: "a", Position: orb.Point{1.5, 2.5}, Uncertainty: uncertainty, Cover: math.NaN(), StemHeight: geo.Meters(math.NaN())}
		_, findings := Check([]Record{r}, Options{Setback: 30})
		if len(findings) != want || want == 1 && findings[0].Rule.Code != "uncertainty-above-setback" {
			t.Errorf("%v m: %v", uncertainty, findings)
		}
	}
}
