package verify

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/mapfile"
)

// cellArea is the area of a cell of 0.01 degrees with its south-western corner at 34 N 117 W:
// 1024694.9 m2 (GeographicLib, Planimeter), in acres of 4046.8564224 m2.
const cellArea = 1024694.9 / 4046.8564224

var cell = orb.MultiPolygon{{{{-117, 34}, {-116.99, 34}, {-116.99, 34.01}, {-117, 34.01}, {-117, 34}}}}

func TestProblemOfAStand(t *testing.T) {
	good := Stand{ID: "a", Gross: cellArea, Infested: cellArea, Canopy: 100, Zone: 50, Footprint: cell}
	if p := good.Problem(); p != "" {
		t.Errorf("a sound stand: %s", p)
	}
	rounded := good
	rounded.Exact = &Acres{cellArea + 4e-5, cellArea - 4e-5, 100.00005, 50}
	if p := rounded.Problem(); p != "" {
		t.Errorf("a stand that is printed rounded: %s", p)
	}
	for want, change := range map[string]func(*Stand){
		"infested_acres is no number":                      func(s *Stand) { s.Infested = math.NaN() },
		"gross_acres is no number":                         func(s *Stand) { s.Gross = math.Inf(1) },
		"canopy_acres is -1, below 0":                      func(s *Stand) { s.Canopy = -1 },
		"surface of the Earth":                             func(s *Stand) { s.Gross = 2e11 },
		"more than gross_acres":                            func(s *Stand) { s.Gross = 200 },
		"zone_acres 300 is more":                           func(s *Stand) { s.Zone = 300 },
		"canopy_acres 300 is more":                         func(s *Stand) { s.Canopy = 300 },
		"gross_acres is 300, and the exact value is 253.3": func(s *Stand) { s.Gross, s.Exact = 300, &Acres{253.3, cellArea, 100, 50} },
		"infested_acres is 253.2077, and the exact value":  func(s *Stand) { s.Infested, s.Gross, s.Exact = 253.2077, 253.2077, &Acres{253.2077, 253.2075, 100, 50} },
		"canopy_acres is 100, and the exact value is 101":  func(s *Stand) { s.Exact = &Acres{cellArea, cellArea, 101, 50} },
		"zone_acres is 50, and the exact value is 0":       func(s *Stand) { s.Exact = &Acres{cellArea, cellArea, 100, 0} },
		"and its footprint is 253.2076 acres":              func(s *Stand) { s.Infested, s.Gross = 260, 260 },
	} {
		s := good
		change(&s)
		if p := s.Problem(); !strings.Contains(p, want) {
			t.Errorf("%q is not told: %q", want, p)
		}
	}
	// an acreage may exceed the one it is part of by the last digits of both, 0.0001 acres, and one
	// computed from the footprint may differ by a hundredth and 0.001 acres
	for _, c := range []struct {
		change func(s *Stand, off float64)
		off    float64
	}{
		{func(s *Stand, off float64) { s.Canopy = s.Infested + off }, 0.000102}, {func(s *Stand, off float64) { s.Zone = s.Infested + off }, 0.000102},
		{func(s *Stand, off float64) { s.Gross = s.Infested - off }, 0.000102},
		{func(s *Stand, off float64) { s.Exact = &Acres{cellArea, cellArea, 100 + off, 50} }, 0.000051},
		{func(s *Stand, off float64) { s.Infested, s.Gross = cellArea+off, cellArea+off }, (0.01*cellArea + 0.001) / 0.99},
		{func(s *Stand, off float64) { s.Infested = cellArea - off }, (0.01*cellArea + 0.001) / 1.01},
	} {
		within, beyond := good, good
		c.change(&within, c.off*0.999)
		c.change(&beyond, c.off*1.001)
		if p, q := within.Problem(), beyond.Problem(); p != "" || q == "" {
			t.Errorf("off by %v: %q, and by more: %q", c.off, p, q)
		}
	}
	unnamed := good
	unnamed.ID = ""
	if wrong := Stands([]Stand{unnamed}); len(wrong) != 1 || wrong[0] != `stand "" is blank or there twice` {
		t.Errorf("a stand without a name: %q", wrong)
	}
	if wrong := Stands(make([]Stand, 100)); len(wrong) != 20 {
		t.Errorf("%d problems of a hundred stands without a name", len(wrong))
	}
	if wrong := Stands([]Stand{good, good}); len(wrong) != 1 || !strings.Contains(wrong[0], "twice") {
		t.Errorf("one id twice: %q", wrong)
	}
}

// Four streams and two units; sums by hand.
func TestSummary(t *testing.T) {
	header := []string{"scope", "stands", "infested_acres", "previous_acres", "observed_change_acres", "new_acres", "not_detected_acres"}
	sound := func() [][]string {
		return [][]string{
			header,
			{"total", "3", "0.6", "0.55", "-0.05", "0.2", "0.1"},
			{"waterBody", "2", "0.1", "0.1", "0", "0", "0"},
			{"unnamed", "0", "0.2", "0.05", "-0.05", "0.2", "0"},
			{"noStream", "1", "0.3", "0.4", "0", "0", "0.1"},
			{"unit", "1", "0.4", "0.3", "0", "0.1", "0"},
			{"outsideUnits", "2", "0.2", "0.25", "-0.05", "0.1", "0.1"},
		}
	}
	stands := []Stand{{ID: "a", Infested: 0.1}, {ID: "b", Infested: 0.2}, {ID: "c", Infested: 0.3}}
	counts := map[string]int{"stands": 3, "carried_stands": 0}
	if wrong := Summary(sound(), stands, counts); len(wrong) > 0 {
		t.Errorf("a sound summary: %q", wrong)
	}
	for want, change := range map[string]func([][]string){
		"rows of waterBody add up to 0.600000, and the total says 0.700000":                func(r [][]string) { r[1][2] = "0.7" },
		"rows of unit add up to 0.500000, and the total says 0.600000":                     func(r [][]string) { r[5][2] = "0.3" },
		"row 4: the parts of change lead to 0.300000 acres":                                func(r [][]string) { r[4][2], r[3][2] = "0.2", "0.3" },
		"the first row is not the total":                                                   func(r [][]string) { r[1][0] = "unit" },
		`infested_acres is "1e9", which is not a figure that this program writes`:          func(r [][]string) { r[2][2] = "1e9" },
		`infested_acres is "900000000000", which is not a figure that this program writes`: func(r [][]string) { r[2][2] = "900000000000" },
		"stands is 4, and there are 3":                                                     func(r [][]string) { r[1][1] = "4" },
	} {
		rows := sound()
		change(rows)
		if wrong := strings.Join(Summary(rows, stands, counts), "\n"); !strings.Contains(wrong, want) {
			t.Errorf("%q is not told: %q", want, wrong)
		}
	}
	if wrong := Summary(sound(), stands, map[string]int{"carried_stands": 2}); len(wrong) != 1 {
		t.Errorf("two carried of none: %q", wrong)
	}
	stands[0].Infested = 0.2
	if wrong := strings.Join(Summary(sound(), stands, nil), "\n"); !strings.Contains(wrong, "the stands add up to 0.7000") {
		t.Errorf("stands of other acres: %q", wrong)
	}
}

func TestBalance(t *testing.T) {
	sound := mapfile.Balance{Stage: "base", Released: 1, Settled: 0.5, Held: 0.25, Aged: 0.125, Left: 0.125}
	if p := Balance(sound); p != "" {
		t.Error(p)
	}
	for _, change := range []func(*mapfile.Balance){
		func(b *mapfile.Balance) { b.Held += 1e-8 }, func(b *mapfile.Balance) { b.Left = math.NaN() }, func(b *mapfile.Balance) { b.Released = 2 },
	} {
		b := sound
		change(&b)
		if Balance(b) == "" {
			t.Errorf("%+v adds up", b)
		}
	}
}

// Figures are reported with their row if they are not numbers, or negative where that is
// impossible, or if their percentiles are out of order; a change may be negative. Acres by status
// add up to all acres, and live acres are those of live statuses. Sums by hand.
func TestFiguresOfARow(t *testing.T) {
	header := []string{
		"scope", "infested_acres", "untreated_acres", "treated_stands_acres", "resprout_acres", "standing_dead_acres", "live_acres",
		"infested_acres_p10", "infested_acres_p90", "reach_at_risk_km_p10", "reach_at_risk_km_p50", "reach_at_risk_km_p90",
		"observed_change_acres_p10", "observed_change_acres_p90", "gross_since_last_look_acres",
	}
	rows := func() [][]string {
		return [][]string{
			header,
			{"total", "1", "0.4", "0.3", "0.2", "0.1", "0.6", "0.8", "1.3", "1", "2", "3", "-0.5", "-0.1", "-2"},
			{"waterBody", "1", "0.4", "0.3", "0.2", "0.1", "0.6", "0.8", "1.3", "1", "2", "3", "-0.5", "-0.1", "-2"},
		}
	}
	stands := []Stand{{ID: "a", Infested: 1}}
	if wrong := Summary(rows(), stands, nil); len(wrong) > 0 {
		t.Fatalf("a sound summary: %q", wrong)
	}
	for _, test := range []struct{ column, value, told string }{
		{"infested_acres_p10", "NaN", `infested_acres_p10 is "NaN"`}, {"infested_acres_p90", "Inf", `infested_acres_p90 is "Inf"`},
		{"infested_acres_p10", "-0.1", "infested_acres_p10 is -0.100000, below 0"}, {"infested_acres_p90", "0.7", "infested_acres_p10 is 0.8"},
		{"infested_acres_p10", "1.4", "infested_acres_p90 is 1.3"}, {"reach_at_risk_km_p50", "3.5", "reach_at_risk_km_p90 is 3"}, {"reach_at_risk_km_p50", "0.5", "reach_at_risk_km_p50 is 0.5"},
		{"observed_change_acres_p90", "-0.6", "observed_change_acres_p90 is -0.6"}, {"reach_at_risk_km_p90", "1e3", `is "1e3"`},
		{"resprout_acres", "0.3", "add up to"}, {"live_acres", "0.7", "live_acres is 0.7"}, {"gross_since_last_look_acres", "x", `is "x"`},
	} {
		bad := rows()
		bad[2][slices.Index(header, test.column)] = test.value
		if wrong := strings.Join(Summary(bad, stands, nil), "\n"); !strings.Contains(wrong, "row 2: ") || !strings.Contains(wrong, test.told) {
			t.Errorf("%s %s: %q, want %q", test.column, test.value, wrong, test.told)
		}
	}
}
