package batch_test

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/correction"
	"driftreach/internal/observed"
	"driftreach/internal/priority"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
	"driftreach/internal/testkit"
	"driftreach/internal/testkit/quarter"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
	"driftreach/internal/verify"
)

// squareM2 is the square metres in an acre.
const squareM2 = 4046.8564224

// theThird is a quarter after those of quarter.Everything, with stands of several patches: one above the
// weir too large for one team, one with its lower patches treated, one treated by acres alone, two that
// grew together, one beside the water.
func theThird(in observed.Quarter) observed.Quarter {
	in.Quarter = quarter.Last.Next()
	on := func(month time.Month, day int) time.Time { return time.Date(2026, month, day, 0, 0, 0, 0, time.UTC) }
	find := func(id string, x, y, area float64) survey.Record {
		day := survey.DayOf(on(8, 3))
		return survey.Record{
			ID: id, File: "points.csv", Position: quarter.At(x, y), Detected: true, PatchArea: geo.SquareMeters(area), Cover: 60, StemHeight: 1.5, Uncertainty: 3, Begin: day, End: day,
			Notes: survey.Notes{Parcel: "P " + id[:1], Extra: []string{"boat"}}.Pack(),
		}
	}
	big := []survey.Record{find("k1", 8, 1340, 110), find("k2", 8, 1320, 200), find("k3", 8, 1300, 90), find("k4", 26, 1310, 100), find("k5", 48, 1305, 100), find("k6", 75, 1318, 100)}
	half := []survey.Record{find("m1", 9, -1000, 150), find("m2", 9, -1025, 150), find("m3", 9, -1050, 150)}
	joined := []survey.Record{find("a1", 8, 900, 160), find("a2", 12, 915, 120), find("a3", 9, 880, 50)}
	in.Records.Listed = append(append(append(big, half...), joined...), find("n1", 4, 200, 15), find("o1", 300, 900, 90), find("b1", 4, 500, 100))
	gone := find("i9", 3, 1400, 0)
	gone.Detected, gone.PatchArea = false, 0
	in.Records.Listed = append(in.Records.Listed, gone)
	done := func(row int, x, y, acres float64, at time.Time, area orb.MultiPolygon) treatment.Treatment {
		return treatment.Treatment{File: "work.csv", Row: row, Date: at, Position: quarter.At(x, y), Placed: true, Ground: area, Method: "foliar spray", TreatedAcres: acres,
			Application: treatment.Application{Product: "Reed Away", Registration: "R-1", Amount: 1, AmountUnit: "l", Wind: math.NaN(), Temperature: math.NaN(), Hours: 2}}
	}
	ring := orb.Ring{quarter.At(-20, -1025), quarter.At(60, -1025), quarter.At(60, -1090), quarter.At(-20, -1090), quarter.At(-20, -1025)}
	in.WorkGiven, in.WorkFirst = true, survey.DayOf(in.Quarter.Begin())
	nan := math.NaN()
	in.Actions = []treatment.Treatment{
		done(1, 9, -1050, nan, on(9, 1), orb.MultiPolygon{{ring}}),
		done(2, 4, 200, 0.4*15/squareM2, on(9, 2), nil),
		done(3, 4, 500, 0.03, on(7, 3), nil), done(4, 4, 500, 0.03, on(7, 4), nil), done(5, 4, 500, 0.01, on(7, 5), nil), // 0.0247 acres
		done(6, 300, 900, 0.06, on(7, 6), nil),
	}
	across := func(id, name string, from, to float64) unit.Unit {
		return unit.Unit{ID: id, Name: name, Areas: orb.MultiPolygon{{{quarter.At(-900, from), quarter.At(900, from), quarter.At(900, to), quarter.At(-900, to), quarter.At(-900, from)}}}}
	}
	in.Units = []unit.Unit{across("l", "Low", -2000, -950), across("n", "North", 900, 2000), across("s", "South", -950, 900)}
	in.Surveyed = []surveyed.Ground{{File: "ground.csv", Row: 1, Begin: on(8, 1), End: on(8, 4), Method: surveyed.Boat, Lines: orb.MultiLineString{{quarter.At(4, 1500), quarter.At(4, -700)}}}}
	in.Corrections = []correction.Correction{
		{File: "corrections.csv", Row: 1, Date: on(8, 20), Kind: correction.AbsenceWrong, StandID: "2026Q1-0004"},
		{File: "corrections.csv", Row: 2, Date: on(8, 21), Kind: correction.Misidentified, StandID: "2026Q2-0001"},
	}
	return in
}

// TestKeptThird: the tables of theThird, whose sums are held by the checks of package verify, and what
// stands there by hand. The large stand has 700 m2: three blocks of 233.3, whose middles lie at 116.7, 350
// and 583.3 m2 of it from upstream to downstream, with what is away from the water last: 110 of k1, 200 of
// k2, 100 of k4, 100 of k5, 90 of k3, 100 of k6. k5 and k6, 42 and 69 m from the centerline, lie out of the
// zone, which ends 33 m from it. Of the three patches of 150 m2 one and a half are treated.
func TestKeptThird(t *testing.T) {
	before, _, second, s := quarter.DeliverEverything(t)
	s.Plan.Block, s.Plan.Budget, s.Treatment.HandPull, s.Maps.Chord = 0.06, 700, 10, 0.1
	dir := filepath.Join(t.TempDir(), "third")
	run := quarter.Deliver(t, theThird(second), before, dir, s)
	if r, err := verify.Folder(t.Context(), os.DirFS(dir), nil); err != nil || len(r.Problems) > 0 {
		t.Errorf("%v: %v", r.Problems, err)
	}
	keepTables(t, dir, "third")

	acres := func(what string, got geo.Acres, m2, within float64) {
		if math.Abs(float64(got)*squareM2-m2) > within {
			t.Errorf("%s: %v m2, want %v", what, float64(got)*squareM2, m2)
		}
	}
	stands := map[string]*result.Stand{} // by the id of their first patch
	for i := range run.Stands {
		if s := &run.Stands[i]; len(s.Members) > 0 && !s.Carried() {
			stands[run.Records.Listed[s.Members[0]].ID] = s
		}
	}
	big, half, joined, small := stands["k1"], stands["m1"], stands["a1"], stands["n1"]
	if big == nil || half == nil || joined == nil || small == nil {
		t.Fatalf("the stands are not those of the patches: %v", stands)
	}
	acres("the large stand", big.Infested.Acres(), 700, 0.01)
	acres("the large stand in the zone", big.Zone.Area.Acres(), 500, 0.01)
	acres("two that grew together", joined.Infested.Acres(), 330, 0.01)
	if rest := 1 - half.Done.Share; math.Abs(rest-0.5) > 2e-3 { // circles are drawn with chords
		t.Errorf("%v of the stand treated in half are left", rest)
	}
	if rest := 1 - small.Done.Share; math.Abs(rest-0.6) > 1e-6 {
		t.Errorf("%v of the stand treated by acres are left", rest)
	}
	// 15 m2 are too much to pull by hand where 10 are the most, and the 9 that are left are not
	if !slices.Contains(small.Advice.Requirements, priority.HandPull) || !slices.Contains(half.Advice.Requirements, priority.NoHandRemoval) {
		t.Errorf("by hand: %q, %q", small.Advice.Requirements, half.Advice.Requirements)
	}
	// bank stands in the way of the first two of its three patches, each as wide as its circle
	water, k := result.WaterWorkTable(run), 0
	for i := range water.Rows {
		row := water.Row(run, i, nil)
		if row[slices.IndexFunc(water.Fields, func(f result.Field) bool { return f.Name == "unit_id" })].String() != "l" || row[0].String() != "proposed" {
			continue
		}
		k++
		if m := row[slices.IndexFunc(water.Fields, func(f result.Field) bool { return f.Name == "bank_m" })].Float(); math.Abs(m-4*math.Sqrt(150/math.Pi)) > 0.11 {
			t.Errorf("%v m of bank", m)
		}
	}
	if k != 1 {
		t.Errorf("%d rows of the low unit", k)
	}
	at := make([]orb.Point, 3)
	for _, row := range run.Plan.Rows {
		if row.Blocks == 3 {
			at[row.Block-1] = row.At
		}
	}
	if want := []orb.Point{quarter.At(8, 1320), quarter.At(26, 1310), quarter.At(8, 1300)}; !slices.Equal(at, want) {
		t.Errorf("the blocks are at %v, want %v", at, want)
	}
}

// keepTables compares the tables of a folder with those kept under testdata, which are all that it has.
func keepTables(t *testing.T, dir, below string) {
	t.Helper()
	names := func(dir string) (all []string) {
		found, err := filepath.Glob(filepath.Join(dir, "*.csv"))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range found {
			if name = filepath.Base(name); name != "fields.csv" && name != "history.csv" {
				all = append(all, name)
			}
		}
		return all
	}
	all := names(dir)
	for _, name := range all {
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		testkit.Kept(t, filepath.ToSlash(filepath.Join(below, name)), text)
	}
	if got, want := strings.Join(all, " "), strings.Join(names(filepath.Join("testdata", below)), " "); got != want {
		t.Errorf("tables %s, kept are %s", got, want)
	}
}
