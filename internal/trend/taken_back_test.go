package trend

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/field"
	"driftreach/internal/survey"
)

// riverBatches are three quarters of a total, a river and a unit: 10, 14 and 20 acres for each, of
// which 4 and 6 are changes since the last look.
func riverBatches(t *testing.T) []Batch {
	var out []Batch
	q := quarter(t, "2026Q1")
	for k, acres := range []int64{10, 14, 20} {
		var rows []Row
		for _, s := range []Section{{Scope: "total"}, {Scope: "waterBody", Name: "Long Water"}, {Scope: "waterBody", Name: "Short Water"}, {Scope: "unit", Name: "East", UnitID: "u1"}, {Scope: "outsideUnits"}} {
			r := NewRow(s.Scope)
			r.Name, r.UnitID = s.Name, s.UnitID
			r.Figures[Infested], r.Figures[Infested.Step()] = acres*PerUnit, []int64{Blank, 4 * PerUnit, 6 * PerUnit}[k]
			r.Looks = []Look{{Quarter: q, Acres: acres * PerUnit}}
			rows = append(rows, r)
		}
		out = append(out, Batch{Quarter: q, Rows: rows})
		q = q.Next()
	}
	return out
}

// TestWhatWasTakenBack: by hand. Of the 4 acres by which the river grew in the second quarter, 3
// were a look-alike's. The chain from the 20 acres at the end is then 14, and 14 - 4 + 3 = 13
// before, on the river and in the total; the unit's, and another river's, stays 10. Listed twice it
// counts once. A correction after the end of the history, or a quarter outside it, does not count.
// An unknown share makes earlier values blank.
func TestWhatWasTakenBack(t *testing.T) {
	q := func(s string) survey.Quarter { return quarter(t, s) }
	back := TakenBack{Taken: q("2026Q3"), Quarter: q("2026Q2"), StandID: "s2", Scope: "waterBody", Name: "Long Water"}
	back.Acres[Infested] = 3 * PerUnit
	of := func(scope field.RowScope, name string, change func(*TakenBack)) TakenBack {
		b := back
		b.Scope, b.Name = scope, name
		if change != nil {
			change(&b)
		}
		return b
	}
	const total, long, unit, outside = 0, 1, 3, 4
	for name, test := range map[string]struct {
		taken []TakenBack
		want  map[int][]int64 // of sections that are not 10, 14, 20
		told  map[int][]string
	}{
		"nothing":       {nil, nil, nil},
		"a river's":     {[]TakenBack{back, back}, map[int][]int64{total: {13, 14, 20}, long: {13, 14, 20}}, map[int][]string{total: {"s2"}, long: {"s2"}}},
		"two stands'":   {[]TakenBack{back, of("waterBody", "Long Water", func(b *TakenBack) { b.StandID = "s1"; b.Acres[Infested] = PerUnit })}, map[int][]int64{total: {14, 14, 20}, long: {14, 14, 20}}, map[int][]string{total: {"s1", "s2"}, long: {"s1", "s2"}}},
		"a unit's":      {[]TakenBack{of("unit", "East", func(b *TakenBack) { b.UnitID = "u1" })}, map[int][]int64{unit: {13, 14, 20}}, map[int][]string{unit: {"s2"}}},
		"renamed":       {[]TakenBack{of("unit", "West", func(b *TakenBack) { b.UnitID = "u1" })}, map[int][]int64{unit: {13, 14, 20}}, map[int][]string{unit: {"s2"}}},
		"any unit's":    {[]TakenBack{of("unit", "", nil)}, map[int][]int64{unit: {13, 14, 20}, outside: {13, 14, 20}}, map[int][]string{unit: {"s2"}, outside: {"s2"}}},
		"shared":        {[]TakenBack{of("waterBody", "Long Water", func(b *TakenBack) { b.Shared = true })}, map[int][]int64{total: {Blank, 14, 20}, long: {Blank, 14, 20}}, map[int][]string{total: {"s2"}, long: {"s2"}}},
		"of the first":  {[]TakenBack{of("waterBody", "Long Water", func(b *TakenBack) { b.Quarter = q("2026Q1") })}, nil, map[int][]string{total: {"s2"}, long: {"s2"}}},
		"of the last":   {[]TakenBack{of("waterBody", "Long Water", func(b *TakenBack) { b.Quarter = q("2026Q3") })}, map[int][]int64{total: {13, 17, 20}, long: {13, 17, 20}}, map[int][]string{total: {"s2"}, long: {"s2"}}},
		"before it all": {[]TakenBack{of("waterBody", "Long Water", func(b *TakenBack) { b.Quarter = q("2025Q4") })}, nil, nil},
		"after it all":  {[]TakenBack{of("waterBody", "Long Water", func(b *TakenBack) { b.Quarter = q("2026Q4") })}, nil, nil},
		"taken later":   {[]TakenBack{of("waterBody", "Long Water", func(b *TakenBack) { b.Taken = q("2026Q4") })}, nil, nil},
		"of no section": {[]TakenBack{of("waterBody", "Lost Water", nil)}, map[int][]int64{total: {13, 14, 20}}, map[int][]string{total: {"s2"}}},
	} {
		batches := riverBatches(t)
		batches[2].TakenBack = test.taken
		h, err := Assemble(batches, DefaultRules())
		if err != nil || len(h.Sections) != 5 {
			t.Fatal(err, len(h.Sections))
		}
		for i := range h.Sections {
			want := []int64{10, 14, 20}
			if w, there := test.want[i]; there {
				want = w
			}
			got := h.Chain(i, Infested)
			for k := range want {
				if w := want[k]; w != Blank {
					want = slices.Clone(want)
					want[k] = w * PerUnit
				}
			}
			if !slices.Equal(got, want) {
				t.Errorf("%s, section %d: %v, want %v", name, i, got, want)
			}
			if d := cmp.Diff(test.told[i], h.Sections[i].Corrected); d != "" {
				t.Errorf("%s, section %d: %s", name, i, d)
			}
		}
	}
}

// TestRowsTakenBackInOrder: sorted by the quarter in which they were counted, then by row, stand
// and correction, with known shares before unknown ones.
func TestRowsTakenBackInOrder(t *testing.T) {
	q1, q2 := quarter(t, "2026Q1"), quarter(t, "2026Q2")
	want := []TakenBack{
		{Quarter: q1, Scope: "z"}, {Quarter: q2, Scope: "a", Name: "y"}, {Quarter: q2, Scope: "b", Name: "a", UnitID: "u2"}, {Quarter: q2, Scope: "b", Name: "b", UnitID: "u1", StandID: "s9"},
		{Quarter: q2, Scope: "b", Name: "b", UnitID: "u2", StandID: "s1", Taken: q2}, {Quarter: q2, Scope: "b", Name: "b", UnitID: "u2", StandID: "s2", Taken: q1},
		{Quarter: q2, Scope: "b", Name: "b", UnitID: "u2", StandID: "s2", Taken: q2}, {Quarter: q2, Scope: "b", Name: "b", UnitID: "u2", StandID: "s2", Taken: q2, Shared: true},
	}
	for i := range want {
		for k := range want {
			if got := want[i].order(&want[k]); (got < 0) != (i < k) || (got > 0) != (i > k) {
				t.Errorf("%d and %d: %d", i, k, got)
			}
		}
	}
}

// TestStandsInSentences: one stand, a few, and the first three of many.
func TestStandsInSentences(t *testing.T) {
	ids := []string{"a", "b", "c", "d", "e"}
	for n, want := range map[int]string{1: "stand a", 2: "stands a, b", 3: "stands a, b, c", 4: "stands a, b, c and 1 more", 5: "stands a, b, c and 2 more"} {
		if got := standsOf(ids[:n]); got != want {
			t.Errorf("%d: %s, want %s", n, got, want)
		}
	}
	since := quarter(t, "2026Q1")
	for _, test := range []struct {
		trend Trend
		want  string
	}{
		{Trend{Measure: Infested, Corrected: ids[:1], Quarters: 2}, "; what corrections took back of stand a is left out"},
		{Trend{Measure: Infested, Corrected: ids[:1], Since: since, Quarters: 2}, " since 2026Q1, because corrections took back changes of stand a that cannot be told from other changes up to then"},
		{Trend{Measure: ReachAtRisk, Since: since, Quarters: 2}, " since 2026Q1, when streams, settings or corrections changed how it is made"},
	} {
		test.trend.Direction = TooFew
		if got := test.trend.Verdict(); !strings.Contains(got, test.want) {
			t.Errorf("%q does not say %q", got, test.want)
		}
	}
}

// TestSectionsAndSums: which sections are units, which have only work, and the sums of parts where
// they are given; by hand.
func TestSectionsAndSums(t *testing.T) {
	for scope, want := range map[field.RowScope][2]bool{ // units, work alone
		"total": {false, false}, "waterBody": {false, false}, "noStand": {false, true}, "unit": {true, false}, "outsideUnits": {true, false}, "noPlace": {true, true},
	} {
		if s := (Section{Scope: scope}); s.IsUnits() != want[0] || s.WorkAlone() != want[1] {
			t.Errorf("%s: %v, %v", scope, s.IsUnits(), s.WorkAlone())
		}
	}
	one, two := &Figures{}, &Figures{}
	one[New], one[Cleared], two[New], two[Cleared] = 3*PerUnit, Blank, 4*PerUnit, 5*PerUnit
	h := History{Sections: []Section{{}, {Figures: []*Figures{one, nil, two}}}}
	if total, n := h.Sum(1, New); total != 7*PerUnit || n != 2 {
		t.Error(total, n)
	}
	if total, n := h.Sum(1, Cleared); total != 5*PerUnit || n != 1 {
		t.Error(total, n)
	}
	if v, ok := two.Part(New); v != 4 || !ok {
		t.Error(v, ok)
	}
	if v, ok := one.Part(Cleared); v != 0 || ok {
		t.Error(v, ok)
	}
	work := Figures{}
	work[WorkDone], work[Infested] = 5, 7
	if got := work.workAlone(); got[Infested] != Blank || got[ReachAtRisk] != Blank || got[New] != Blank || got[WorkDone] != 5 || got[WorkDone+1] != 0 {
		t.Error(got)
	}
	if got := work.unseen(); got[Infested] != Blank || got[StandingDead] != Blank || got[ReachAtRisk] != 0 || got[New] != 0 {
		t.Error(got)
	}
}

// TestRanges: live, infested, gross and canopy acres have their own P10 and P90; those of others
// are in proportion to infested acres; blank figures and reach have none; by hand.
func TestRanges(t *testing.T) {
	var f Figures
	for m := range f {
		f[m] = Blank
	}
	f[Infested], f[Zone], f[Live] = 8*PerUnit, 2*PerUnit, 5*PerUnit
	setRange(&f, Infested, 6*PerUnit, 12*PerUnit)
	setRange(&f, Live, 4*PerUnit, 7*PerUnit)
	for m, want := range map[Measure][2]float64{Infested: {6, 12}, Live: {4, 7}, Zone: {1.5, 3}} {
		if p10, p90, ok := f.Band(m); p10 != want[0] || p90 != want[1] || !ok {
			t.Errorf("%s: %g to %g, %v", m.Label(), p10, p90, ok)
		}
	}
	for _, m := range []Measure{Gross, Canopy, ReachAtRisk, New} {
		if _, _, ok := f.Band(m); ok {
			t.Errorf("%s has a range", m.Label())
		}
	}
	f[Infested] = 0
	if _, _, ok := f.Band(Zone); ok {
		t.Error("a share of no acres has a range")
	}
	for m, want := range map[Measure]bool{Live: true, Infested: true, Gross: true, Canopy: true, Zone: false, Treated: false, StandingDead: false, ReachAtRisk: false} {
		if m.HasRange() != want {
			t.Errorf("%s has a range of its own: %v", m.Label(), !want)
		}
	}
	if f[firstBand+2*Infested] != 6*PerUnit || f[firstBand+2*Infested+1] != 12*PerUnit || columns[firstBand+2*Gross] != "gross_acres_p10" {
		t.Error("ranges are not where their columns are")
	}
}

// setRange sets P10 and P90 of a measure that has its own.
func setRange(f *Figures, m Measure, p10, p90 int64) {
	f[firstBand+2*m], f[firstBand+2*m+1] = p10, p90
}

// TestOffOfOtherAcres: the errors in a row, as read from a file; those of gross acres, with a P10
// to P90 range twice as wide as infested acres, are twice as large; variances by quarter in square
// acres; by hand.
func TestOffOfOtherAcres(t *testing.T) {
	off, err := parseOff("defaults -0.25; 2026Q1 0.5; 2026Q2 1.5; 2026Q1 2")
	if err != nil || off.Defaults != -0.25 || len(off.Looks) != 2 || off.Looks[quarter(t, "2026Q1").Ordinal()] != 4.25 || off.Looks[quarter(t, "2026Q2").Ordinal()] != 2.25 {
		t.Fatalf("%+v, %v", off, err)
	}
	if off.sum() != 6.5 {
		t.Error(off.sum())
	}
	for _, bad := range []string{"defaults x", "2026Q9 1", "2026Q1 -1", "2026Q1", "defaults"} {
		if _, err := parseOff(bad); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
	if none, err := parseOff(""); err != nil || none.Defaults != 0 || len(none.Looks) != 0 {
		t.Error(none, err)
	}
	f := &Figures{}
	f[Infested], f[Gross], f[Zone] = 8*PerUnit, 20*PerUnit, 4*PerUnit
	setRange(f, Infested, 6*PerUnit, 10*PerUnit)
	setRange(f, Gross, 16*PerUnit, 24*PerUnit)
	live := &Off{Defaults: 9}
	s := &Section{Figures: []*Figures{f, f}, Offs: []*[offs]*Off{{live, off}, nil}}
	if s.offOf(0, Live) != live || s.offOf(0, Infested) != off || s.offOf(1, Infested) != nil || s.offOf(0, ReachAtRisk) != nil {
		t.Error("what is told is not taken")
	}
	for m, times := range map[Measure]float64{Gross: 2, Zone: 0.5} {
		got := s.offOf(0, m)
		if got.Defaults != -0.25*times || math.Abs(got.sum()-6.5*times*times) > 1e-12 {
			t.Errorf("%s: %+v", m.Label(), got)
		}
	}
	f[Zone] = 0
	if got := s.offOf(0, Zone); got.Defaults != 0 || got.sum() != 0 {
		t.Errorf("%+v", got)
	}
	setRange(f, Infested, 8*PerUnit, 8*PerUnit)
	if got := s.offOf(0, Gross); got != off {
		t.Errorf("%+v", got)
	}
	for _, none := range []Measure{Gross, Infested} { // no acres, or no infested acres to be in proportion to, have no error
		other := *f
		other[none] = 0
		if got := (&Section{Figures: []*Figures{&other}, Offs: s.Offs[:1]}).offOf(0, Gross); got.Defaults != 0 || got.sum() != 0 {
			t.Errorf("without %s acres gross ones are off by %+v", none.Label(), got)
		}
	}
	h := History{Apart: []bool{true, false, true, false}}
	for _, test := range []struct {
		begin, end int
		want       bool
	}{{0, 1, false}, {0, 2, true}, {1, 2, true}, {2, 3, false}, {1, 1, false}} {
		if h.apartBetween(test.begin, test.end) != test.want {
			t.Errorf("%+v", test)
		}
	}
}

// TestFirstShare: of 10 acres with 4 carried, 6 were measured; 3 of these on ground first surveyed
// are a half; never more than 1; by hand.
func TestFirstShare(t *testing.T) {
	for _, test := range []struct {
		infested, carried, first int64
		want                     float64
	}{
		{10, 4, 3, 0.5}, {10, 0, 10, 1}, {10, 4, 8, 1}, {10, Blank, 5, 0.5}, {10, 4, 0, 0}, {10, 4, Blank, 0}, {0, 0, 0, 0},
	} {
		f := &Figures{}
		f[Infested], f[Carried], f[FirstLookedAt] = test.infested, test.carried, test.first
		s := &Section{Figures: []*Figures{nil, f}}
		if got := s.firstShare(1); got != test.want || s.firstShare(0) != 0 {
			t.Errorf("%+v: %g", test, got)
		}
	}
}
