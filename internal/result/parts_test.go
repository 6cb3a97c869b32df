package result

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/internal/allocate"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
)

// By hand, in grains. A stand of 100 continues another; 30 of it are carried, 20 are on ground
// first looked at and 10 were found again. Observed are its own 70 and the carried 30, less the 20
// and the 10: 70. For a stand without parents these are new. A stand of which nothing was found is
// carried: its acres are subtracted from not detected, where its known acres count, and from
// cleared if those were treated or dead.
func TestPartsOfAStand(t *testing.T) {
	run := &Run{Previous: &Previous{Known: []lineage.Known{
		{Stand: stand.Stand{Status: survey.Untreated}}, {Stand: stand.Stand{Status: survey.Treated}},
		{Stand: stand.Stand{Status: survey.StandingDead}}, {Stand: stand.Stand{Status: survey.Resprout}},
	}}}
	parts := StandParts{Own: 70, Carried: 30, FirstLooked: 20, FoundAgain: 10}
	then := survey.Quarter{Year: 2026, Number: 1}
	for name, test := range map[string]struct {
		stand Stand
		parts StandParts
		want  Parts
	}{
		"goes on":                  {Stand{Parents: []int32{0}}, parts, Parts{Carried: 30, FirstLooked: 20, FoundAgain: 10, Observed: 70}},
		"new":                      {Stand{}, parts, Parts{Carried: 30, FirstLooked: 20, FoundAgain: 10, New: 70}},
		"carried":                  {Stand{Parents: []int32{0}, CarriedFrom: then}, StandParts{Carried: 40}, Parts{Carried: 40, NotDetected: -40}},
		"carried, once treated":    {Stand{Parents: []int32{1}, CarriedFrom: then}, StandParts{Carried: 40}, Parts{Carried: 40, NotDetected: -40, Cleared: -40}},
		"carried, standing dead":   {Stand{Parents: []int32{2}, CarriedFrom: then}, StandParts{Carried: 40}, Parts{Carried: 40, NotDetected: -40, Cleared: -40}},
		"carried, growing again":   {Stand{Parents: []int32{3}, CarriedFrom: then}, StandParts{Carried: 40}, Parts{Carried: 40, NotDetected: -40}},
		"carried of two parents":   {Stand{Parents: []int32{1, 0}, CarriedFrom: then}, StandParts{Carried: 1}, Parts{Carried: 1, NotDetected: -1, Cleared: -1}},
		"all of it found again":    {Stand{Parents: []int32{0}}, StandParts{Own: 5, FoundAgain: 5}, Parts{FoundAgain: 5}},
		"new on ground never seen": {Stand{}, StandParts{Own: 5, FirstLooked: 5}, Parts{FirstLooked: 5}},
	} {
		var got Parts
		got.addStand(run, &test.stand, test.parts)
		if got != test.want {
			t.Errorf("%s: %+v, want %+v", name, got, test.want)
		}
	}
	for name, test := range map[string]struct {
		known int
		fate  lineage.Change
		want  Parts
	}{
		"linked":           {1, "", Parts{Restated: 50, Observed: -50}},
		"not detected":     {0, lineage.NotDetected, Parts{Restated: 50, NotDetected: 50}},
		"cleared":          {1, lineage.NotDetected, Parts{Restated: 50, NotDetected: 50, Cleared: 50}},
		"dead and cleared": {2, lineage.NotDetected, Parts{Restated: 50, NotDetected: 50, Cleared: 50}},
	} {
		var got Parts
		got.addKnown(&run.Previous.Known[test.known], test.fate, 50)
		if got != test.want {
			t.Errorf("%s: %+v, want %+v", name, got, test.want)
		}
	}
	one := Parts{1, 2, 3, 4, 5, 6, 7, 8, 9}
	sum := Parts{10, 20, 30, 40, 50, 60, 70, 80, 90}
	sum.addPrinted(100)
	sum.add(&one)
	if want := (Parts{111, -78, 33, 44, 55, 66, 77, 88, 99}); sum != want {
		t.Errorf("%+v, want %+v", sum, want)
	}
}

// Shares of a stand take each part in proportion to their acres, none below 0, and together all of
// it; by hand, a half gets half of each.
func TestPartsAreSplitByAcres(t *testing.T) {
	whole := Stand{Parts: StandParts{Own: 60, Carried: 40, FirstLooked: 20, FoundAgain: 10}}
	split := newSplitter(&whole)
	for k := range 2 {
		if got, want := split.next(50), (StandParts{Own: 30, Carried: 20, FirstLooked: 10, FoundAgain: 5}); got != want {
			t.Errorf("half %d: %+v, want %+v", k, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		own, carried := rapid.Int64Range(0, 100).Draw(t, "own"), rapid.Int64Range(0, 100).Draw(t, "carried")
		first := rapid.Int64Range(0, own).Draw(t, "first looked")
		again := rapid.Int64Range(0, own-first).Draw(t, "found again")
		whole := Stand{Parts: StandParts{own, carried, first, again}}
		split, left, sum := newSplitter(&whole), own+carried, StandParts{}
		for left > 0 {
			n := rapid.Int64Range(0, left).Draw(t, "share")
			if rapid.Bool().Draw(t, "last") {
				n = left
			}
			got := split.next(n)
			if got.Own+got.Carried != n || min(got.Own, got.Carried, got.FirstLooked, got.FoundAgain) < 0 || got.FirstLooked+got.FoundAgain > got.Own {
				t.Fatalf("%d of %+v: %+v", n, whole.Parts, got)
			}
			sum = StandParts{sum.Own + got.Own, sum.Carried + got.Carried, sum.FirstLooked + got.FirstLooked, sum.FoundAgain + got.FoundAgain}
			left -= n
		}
		if sum != whole.Parts {
			t.Fatalf("%+v, want %+v", sum, whole.Parts)
		}
	})
}

// The previous acres of a stand are those of its parents that were in the last batch; carried acres
// are summed over the stands that have some.
func TestBeforeAndCarried(t *testing.T) {
	run := &Run{
		Previous: &Previous{
			Known: []lineage.Known{
				{Stand: stand.Stand{ID: "a"}}, {Stand: stand.Stand{ID: "b"}, Ruled: lineage.Ruled{Same: []string{"b2", "b3"}}}, {Stand: stand.Stand{ID: "gone"}, Absent: true},
			},
			Restated: []int64{5, 7, 11},
		},
		Stands: []Stand{
			{Parents: []int32{0, 1, 2}, Parts: StandParts{Own: 1, Carried: 2}}, {Parents: []int32{2}, Parts: StandParts{Own: 9}}, {Parts: StandParts{Carried: 4}},
		},
	}
	for i, want := range []struct {
		acres int64
		any   bool
	}{{12, true}, {0, false}, {0, false}} {
		if acres, any := run.before(&run.Stands[i]); acres != want.acres || any != want.any {
			t.Errorf("stand %d had %d, %v, want %v", i, acres, any, want)
		}
	}
	if stands, acres := run.carriedAcres(); stands != 2 || acres != 6 {
		t.Errorf("%d stands, %d carried, want 2 and 6", stands, acres)
	}
	if got := run.PreviousIDs(&run.Stands[0]); !slices.Equal(got, []string{"a", "b", "gone"}) {
		t.Error(got)
	}
	if got := run.EarlierIDs(&run.Stands[0]); !slices.Equal(got, []string{"a", "b", "gone", "b2", "b3"}) {
		t.Error(got)
	}
	q1 := survey.Quarter{Year: 2026, Number: 1}
	run.CarriedFrom = []survey.Quarter{{}, q1}
	for i, want := range []bool{false, true} {
		if from, is := run.recordCarried(i); is != want || want && from != q1 {
			t.Errorf("record %d: %v, %v", i, from, is)
		}
	}
}

// jobsRun has a stand of 3 acres across both units, one of 1 acre, and one that is gone, with 2
// known acres on a stream of its own.
func jobsRun() *Run {
	return &Run{
		Quarter: survey.Quarter{Year: 2026, Number: 3}, Units: []unit.Unit{{ID: "u1"}, {ID: "u2"}},
		Centerlines: []stream.Centerline{{ID: "a", Name: "Long Water"}, {ID: "b"}},
		Stands: []Stand{
			{Stand: stand.Stand{ID: "s1", Infested: 3 * acre}, Shares: []allocate.Share{{Unit: 0, Infested: 1e10}, {Unit: 1, Infested: 2e10}}, Parents: []int32{1}},
			{Stand: stand.Stand{ID: "s2", Infested: acre}, Shares: []allocate.Share{{Unit: 1, Infested: 1e10}}},
		},
		Previous: &Previous{
			Known:  []lineage.Known{{Stand: stand.Stand{ID: "gone", Infested: 2 * acre}, StreamID: "c", WaterBody: "Old Water"}, {Stand: stand.Stand{ID: "s1", Infested: 5 * acre}}},
			Shares: [][]allocate.Share{{{Unit: 0, Infested: 2e10}}, nil},
		},
	}
}

// Where work counts, by hand: the stands it was done on, with their streams and units, each once
// and in order. For a stand that is gone: those it had, or the unit of the work's own position if
// that is known.
func TestWherePiecesOfWorkCount(t *testing.T) {
	run := jobsRun()
	for name, test := range map[string]struct {
		job  Treatment
		want Place
	}{
		"two stands":           {Treatment{On: []Ground{{1, -1}, {0, -1}}, Unit: UnknownUnit}, Place{[]string{"s1", "s2"}, []string{"Long Water"}, []string{"u1", "u2"}}},
		"one that is gone":     {Treatment{On: []Ground{{-1, 0}}, Unit: UnknownUnit}, Place{[]string{"gone"}, []string{"Old Water"}, []string{"u1"}}},
		"gone, with its place": {Treatment{On: []Ground{{-1, 0}}, Unit: 1}, Place{[]string{"gone"}, []string{"Old Water"}, []string{"u2"}}},
		"on no stand":          {Treatment{Unit: 1}, Place{nil, nil, []string{"u2"}}},
		"nowhere":              {Treatment{Unit: UnknownUnit}, Place{}},
		"outside":              {Treatment{Unit: allocate.Outside}, Place{}},
		"carried":              {Treatment{Carried: true, On: []Ground{{0, -1}}, Told: Place{Stands: []string{"x"}}}, Place{Stands: []string{"x"}}},
	} {
		got := run.place(&test.job)
		if !slices.Equal(got.Stands, test.want.Stands) || !slices.Equal(got.Waters, test.want.Waters) || !slices.Equal(got.UnitIDs, test.want.UnitIDs) {
			t.Errorf("%s: %+v, want %+v", name, got, test.want)
		}
	}
	if got := run.unitsOf(&Treatment{Unit: UnknownUnit}, Ground{-1, 1}); len(got) != 1 || got[0].Unit != allocate.Outside {
		t.Errorf("a stand that is gone and has no unit: %v", got)
	}
}

// Work counts once, in the batch that first lists it. Its acres are divided among its stands in
// proportion to their acres; a stand that is gone counts with its last known acres.
func TestWorkCountsOnce(t *testing.T) {
	run := jobsRun()
	last := run.Quarter.Previous()
	for want, jobs := range map[bool][]Treatment{
		true: {{CountedIn: run.Quarter}}, false: {{CountedIn: run.Quarter, Carried: true}, {CountedIn: last}, {CountedIn: last, Carried: true}, {}},
	} {
		for _, j := range jobs {
			if run.counts(&j) != want {
				t.Errorf("%+v counts: %v", j, !want)
			}
		}
	}
	j := Treatment{Treatment: treatment.Treatment{TreatedAcres: 1.2}, On: []Ground{{0, -1}, {1, -1}, {-1, 0}}} // stands of 3, 1 and 2 acres
	if got := run.grounds(&j); !slices.Equal(got, []int64{6e9, 2e9, 4e9}) {
		t.Error(got)
	}
	if got := run.divided(9e9, []int64{0, 0, 0}); !slices.Equal(got, []int64{3e9, 3e9, 3e9}) {
		t.Error(got)
	}
	if got := run.divided(9e9, nil); got != nil {
		t.Error(got)
	}
	for _, test := range []struct {
		on    Ground
		id    string
		acres float64
	}{{Ground{0, -1}, "s1", 5}, {Ground{1, -1}, "s2", 1}, {Ground{-1, 0}, "gone", 2}} {
		if id, acres := run.GroundBefore(test.on); id != test.id || acres < test.acres-1e-9 || acres > test.acres+1e-9 {
			t.Errorf("%v: %s, %g acres, want %s, %g", test.on, id, acres, test.id, test.acres)
		}
	}
	run.Stands[0].Infested = 8 * acre
	if _, acres := run.GroundBefore(Ground{0, -1}); acres < 8-1e-9 {
		t.Errorf("%g acres, want 8 of now", acres)
	}
}

// Places at the limits of latitude and longitude are on the earth, places beyond are not.
func TestOnEarth(t *testing.T) {
	for _, p := range []orb.Point{{180, 90}, {-180, -90}, {0, 0}} {
		if !OnEarth(&p) || coordinate(&p, 0).Kind == Null {
			t.Errorf("%v is on the earth", p)
		}
	}
	for _, p := range []orb.Point{{180.001, 0}, {-181, 0}, {0, 90.001}, {0, -91}} {
		if OnEarth(&p) || coordinate(&p, 1).Kind != Null {
			t.Errorf("%v is not on the earth", p)
		}
	}
	if OnEarth(nil) {
		t.Error("nothing is on the earth")
	}
	if p := (orb.Point{12.25, -3.5}); coordinate(&p, 0).String() != "12.25" || coordinate(&p, 1).Float() != -3.5 {
		t.Errorf("%s, %s", coordinate(&p, 0), coordinate(&p, 1))
	}
}
