package result

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/drift"
	"driftreach/internal/followup"
	"driftreach/internal/stand"
	"driftreach/internal/treatment"
)

// TestDecimalsOfUnits: the decimals that the comment of each unit states.
func TestDecimalsOfUnits(t *testing.T) {
	for u, want := range map[Unit]uint8{
		NoUnit: 0, Acres: 4, Kilometers: 4, Meters: 2, SquareMeters: 2, SquareKilometers: 4, Percent: 1, AcreFeetYearly: 3,
		Index: 6, IndexKm: 6, Hours: 2, MetersPerSecond: 2, Celsius: 1, Amount: 4, Degrees: 7,
	} {
		if got := u.Decimals(); got != want {
			t.Errorf("%q has %d decimals, want %d", u, got, want)
		}
	}
	for f, want := range map[*Field]string{{Label: "Reach", Unit: Kilometers}: "Reach (km)", {Label: "Released", Unit: Index}: "Released", {Label: "Stand"}: "Stand", {Label: "Exposure", Unit: IndexKm}: "Exposure (index x km)"} {
		if got := f.Title(); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	var kinds []string
	for k := Null; k <= List; k++ {
		kinds = append(kinds, k.String())
	}
	if d := cmp.Diff([]string{"blank", "text", "true or false", "whole number", "number", "date", "list"}, kinds); d != "" {
		t.Error(d)
	}
	if got := (Value{Kind: Text, Text: "7"}).Float(); !math.IsNaN(got) {
		t.Error(got, "of a text")
	}
	if a, b := (Value{Kind: Count, Int: 7}).Float(), (Value{Kind: Number, Decimals: 2, Int: -725}).Float(); a != 7 || b != -7.25 {
		t.Error(a, b)
	}
}

// TestDecimalsOfAcres: as many decimals as the smallest infested stand needs for three significant
// digits, by hand: 0.01 acres are 0.0100, three digits with four decimals; a grain less needs five
// decimals. Never more than eight.
func TestDecimalsOfAcres(t *testing.T) {
	for grains, want := range map[int64]uint8{
		0: 4, 1e10: 4, 100_000_000: 4, 99_999_999: 5, 10_000_000: 5, 9_999_999: 6, 1_000_000: 6, 999_999: 7, 100_000: 7, 99_999: 8, 10_000: 8, 9_999: 8, 1: 8,
	} {
		for name, run := range map[string]*Run{
			"stand":  {Stands: []Stand{{Stand: stand.Stand{Infested: acre}}, {Stand: stand.Stand{Infested: geo.OfGrains(grains)}}, {Stand: stand.Stand{Infested: acre}}}},
			"absent": {Absent: []Absent{{}, {}}, Stands: []Stand{{Stand: stand.Stand{Infested: acre}}}},
		} {
			if name == "absent" {
				run.Absent[1].Infested = geo.OfGrains(grains)
			}
			if got := AcreDecimals(run); got != want {
				t.Errorf("%d grains of a %s: %d decimals, want %d", grains, name, got, want)
			}
		}
	}
	six := &Run{AcreDecimals: 6}
	if got := six.acres(123_456_789).String(); got != "0.012346" { // 0.0123456789
		t.Error(got)
	}
	var none *Run
	if got := none.acres(123_456_789).String(); got != "0.0123" {
		t.Error(got)
	}
	if got := (&Run{AcreDecimals: 2}).acres(123_456_789).String(); got != "0.0123" { // never fewer than four
		t.Error(got)
	}
	if !math.IsNaN(six.area(geo.SquareMeters(math.NaN())).Float()) || six.area(geo.SquareMeters(math.Inf(1))).Kind != Null {
		t.Error("an area that is no number is printed")
	}
}

// TestSharesInPrint: a stand of 1.0001 acres gross, 0.5002 infested, in thirds that no four
// decimals can show. By hand, each printed column adds up to the printed whole, canopy is at most
// infested acres, and the step left over for gaps goes to the second share, which has a grain more
// of gaps.
func TestSharesInPrint(t *testing.T) {
	run := &Run{AcreDecimals: 4}
	const step = 1_000_000
	whole := allocate.Share{Gross: 10_001 * step, Infested: 5_002 * step, Canopy: 5_002 * step, Zone: 4 * step}
	third := allocate.Share{Gross: 10_001 * step / 3, Infested: 5_002 * step / 3, Canopy: 5_002 * step / 3, Zone: 4 * step / 3}
	shares := []allocate.Share{third, third, third}
	for i := range shares {
		shares[i].Unit = int32(i)
	}
	shares[0].Infested++ // the remainder of the division by three
	got := run.printedShares(whole, shares)
	want := []allocate.Share{
		{Unit: 0, Gross: 3_334 * step, Infested: 1_668 * step, Canopy: 1_668 * step, Zone: 2 * step},
		{Unit: 1, Gross: 3_334 * step, Infested: 1_667 * step, Canopy: 1_667 * step, Zone: step},
		{Unit: 2, Gross: 3_333 * step, Infested: 1_667 * step, Canopy: 1_667 * step, Zone: step},
	}
	sum := allocate.Share{}
	for i, s := range got {
		sum.Gross, sum.Infested, sum.Canopy, sum.Zone = sum.Gross+s.Gross, sum.Infested+s.Infested, sum.Canopy+s.Canopy, sum.Zone+s.Zone
		if s.Unit != int32(i) {
			t.Errorf("unit %d in place of %d", s.Unit, i)
		}
	}
	if sum != whole {
		t.Errorf("shares add up to %+v, want %+v", sum, whole)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// TestFragmentsOfAStandAddUp: the settled amount takes up the rounding of the others. An impossible
// amount is 0, and no part is more than what remains of the whole; by hand.
func TestFragmentsOfAStandAddUp(t *testing.T) {
	type parts = massBalance // released, settled, held, aged, left
	for name, test := range map[string]struct {
		o    drift.Outcome
		want parts
	}{
		"thirds":             {drift.Outcome{Released: 1, Held: 1. / 3, Left: 1. / 3, Aged: 1. / 3}, parts{1_000_000, 1, 333_333, 333_333, 333_333}},
		"more than released": {drift.Outcome{Released: 1, Held: 0.5, Aged: 0.75, Left: 0.5}, parts{1_000_000, 0, 500_000, 500_000, 0}},
		"held too much":      {drift.Outcome{Released: 1, Held: 2, Aged: 1, Left: 1}, parts{1_000_000, 0, 1_000_000, 0, 0}},
		"left too much":      {drift.Outcome{Released: 1, Held: 0.25, Aged: 0.25, Left: 1}, parts{1_000_000, 0, 250_000, 250_000, 500_000}},
		"no number":          {drift.Outcome{Released: drift.Amount(math.NaN()), Held: 1}, parts{}},
		"below nothing":      {drift.Outcome{Released: -1}, parts{}},
		"half below nothing": {drift.Outcome{Released: 1, Held: -0.5}, parts{1_000_000, 1_000_000, 0, 0, 0}},
	} {
		if b := massBalanceOf(test.o); b != test.want {
			t.Errorf("%s: %+v, want %+v", name, b, test.want)
		}
	}
}

// TestNamesOfEvents: event ids are the same from quarter to quarter, and different from those of
// other chains.
func TestNamesOfEvents(t *testing.T) {
	run := &Run{Chain: "c0ffee"}
	got := []string{run.VisitUID("2026Q1-0001"), run.TreatedUID("2026Q1-0001"), run.NoVisitUID(q3)}
	want := []string{"2026Q1-0001.visit.c0ffee.driftreach", "2026Q1-0001.treated.c0ffee.driftreach", "none.2026Q3.c0ffee.driftreach"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// TestHistoryKeepsColumns: the columns of the summary come first, then those that only earlier
// batches had.
func TestHistoryKeepsColumns(t *testing.T) {
	table := Table{Fields: []Field{{Name: "scope"}, {Name: "acres"}}}
	if d := cmp.Diff([]string{"scope", "acres", "old", "older"}, HistoryColumns(table, History{Columns: []string{"old", "acres", "scope", "older"}})); d != "" {
		t.Error(d)
	}
}

// TestVisitsDue: of visits before, on and after the quarter's last day, the first is overdue; those to the
// last day of the next quarter are due, and what comes after is later. One without a day is not counted. A
// look at treated ground counts by its own day where that is the first. By hand.
func TestVisitsDue(t *testing.T) {
	run := &Run{Quarter: q3}
	for _, row := range []followup.Row{{Due: date(2026, 9, 29)}, {Due: date(2026, 9, 30)}, {Due: date(2026, 10, 1)}, {}, {Again: date(2026, 9, 20)}, {Again: date(2026, 12, 31)},
		{Due: date(2027, 1, 1)}, {Again: date(2027, 1, 1)}, {Due: date(2027, 3, 30), Again: date(2026, 9, 10)}, {Due: date(2026, 11, 30), Again: date(2027, 9, 10)}} {
		run.Visits = append(run.Visits, Visit{Row: &row})
	}
	if got := VisitsDue(run); got != (Calls{Due: 7, Overdue: 3, Later: 2}) {
		t.Errorf("%+v", got)
	}
	for i, want := range []int{1, 0, 0, 0, 10, 0, 0, 0, 20, 0} {
		if got := run.daysOverdue(i); got != want {
			t.Errorf("visit %d: %d days overdue, want %d", i, got, want)
		}
	}
}

// TestJobsInOrder: sorted by day, then by content, then by key.
func TestJobsInOrder(t *testing.T) {
	jobs := []Treatment{
		{Key: "d", Treatment: treatment.Treatment{Date: date(2026, 7, 2)}}, {Key: "b", Treatment: treatment.Treatment{Date: date(2026, 7, 1), StandID: "s2"}},
		{Key: "c", Treatment: treatment.Treatment{Date: date(2026, 7, 1), StandID: "s2"}}, {Key: "z", Treatment: treatment.Treatment{Date: date(2026, 7, 1), StandID: "s1"}},
	}
	SortTreatments(jobs)
	var keys []string
	for _, j := range jobs {
		keys = append(keys, j.Key)
	}
	if !slices.Equal(keys, []string{"z", "b", "c", "d"}) {
		t.Error(keys)
	}
}

// TestFaultsSayWhatIsWrong: an error names the figure, the place and the remedy.
func TestFaultsSayWhatIsWrong(t *testing.T) {
	err := &FaultError{"stand s1", "gross_acres", -2.5}
	if got, want := err.Error(), "gross_acres of stand s1 came to -2.5, which cannot be: a fault of the program"; got != want {
		t.Error(got)
	}
	if !strings.Contains(err.Hint(), "nothing was written") {
		t.Error(err.Hint())
	}
}

// TestCautionsOnCarriedAndMargins: ground that nobody saw is given with its acres, and ranges are
// mentioned if there are stands; by hand.
func TestCautionsOnCarriedAndMargins(t *testing.T) {
	all := strings.Join(Cautions(programme()), "\n")
	for _, want := range []string{"2 of the stands were not looked at in full this quarter: 1.50 infested acres of them are as last known", marginCaution} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not said", want)
		}
	}
	if none := strings.Join(Cautions(&Run{}), "\n"); strings.Contains(none, "Nobody saw") || strings.Contains(none, marginCaution) {
		t.Error(none)
	}
}
