package result

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/lineage"
	"driftreach/internal/margin"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// doubtful returns a stand of one patch with the range of its acres.
func doubtful(t *testing.T) Stand {
	records := []survey.Record{{ID: "a", Position: orb.Point{-118, 34}, Detected: true, PatchArea: 400, Cover: 50, StemHeight: geo.Meters(math.NaN())}}
	rules := stand.DefaultSettings()
	rules.MinPoints = 1
	stands, _, err := stand.Map(records, survey.Quarter{Year: 2026, Number: 3}, rules, 1)
	if err != nil || len(stands) != 1 {
		t.Fatalf("%d stands, %v", len(stands), err)
	}
	s := margin.Survey{Records: records, Rules: rules, Settings: margin.DefaultSettings()}
	s.Observers = margin.NewCauses().Of(survey.Records{Listed: records}, func(int) survey.Quarter { return survey.Quarter{Year: 2026, Number: 3} })
	out := Stand{Stand: stands[0], Margin: s.Of(&stands[0])}
	out.Margin.Resting = stand.Resting{Infested: out.Infested / 2, Canopy: out.Canopy / 4}
	if !(out.Margin.Infested.Sigma() > 0) {
		t.Fatal("the stand is not off")
	}
	return out
}

// near checks that a figure is within a millionth of another.
func near(t *testing.T, what string, got, want geo.SquareMeters) {
	t.Helper()
	if !(math.Abs(float64(got-want)) <= 1e-6*max(1, math.Abs(float64(want)))) {
		t.Errorf("%s: %g m2, want %g", what, got, want)
	}
}

// By hand: half of a stand has half of its error, and two halves of the same stand have about twice
// the error of one half, since their errors are the same. Acres that rest on defaults are in
// proportion to the acres and never more than them.
func TestMarginOfARow(t *testing.T) {
	s := doubtful(t)
	all := wholeAcres(&s)
	half := allocate.Share{Gross: all.Gross / 2, Infested: all.Infested / 2, Canopy: all.Canopy / 2}
	sigma := s.Margin.Infested.Sigma()
	var m, twice rowMargin
	m.addStand(&s, half, StandParts{Own: half.Infested})
	near(t, "half, infested", m.infested.Sigma(), sigma/2)
	near(t, "half, gross", m.gross.Sigma(), s.Margin.Gross.Sigma()/2)
	near(t, "half, canopy", m.canopy.Sigma(), s.Margin.Canopy.Sigma()/2)
	near(t, "half of what rests on a default", geo.OfGrains(m.resting), s.Infested/4)
	near(t, "half of the canopy that rests on defaults", geo.OfGrains(m.restingCanopy), s.Canopy/8)
	near(t, "a new stand is no observed change", m.observed.Sigma(), 0)
	twice.add(&m)
	twice.add(&m)
	near(t, "two halves, resting", geo.OfGrains(twice.resting), s.Infested/2)
	near(t, "two halves, resting canopy", geo.OfGrains(twice.restingCanopy), s.Canopy/4)
	for what, f := range map[string][2]margin.Form{"infested": {twice.infested, m.infested}, "gross": {twice.gross, m.gross}, "canopy": {twice.canopy, m.canopy}} {
		if got := f[0].Sigma() / f[1].Sigma(); !(got > 1.4 && got < 2.001) {
			t.Errorf("%s of two halves is %g times as far off as of one", what, got)
		}
	}
	sum := Sum{Margin: m}
	if sum.Resting() != m.resting || m.resting == 0 {
		t.Errorf("%d of %d", sum.Resting(), m.resting)
	}
	var none rowMargin
	none.addStand(&Stand{Margin: s.Margin}, half, StandParts{})
	near(t, "a stand without acres", none.infested.Sigma(), 0)
}

// By hand: the error of the observed change of a continuing stand is that of its acres except
// those on ground first looked at; it is 0 if these are exactly the acres found again. The error
// of the previous acres is subtracted, so that the common part cancels. A stand that nobody saw
// or that is gone adds nothing to the observed change.
func TestMarginOfChange(t *testing.T) {
	s := doubtful(t)
	s.Parents = []int32{0}
	all := wholeAcres(&s)
	n := all.Infested
	parts := StandParts{Own: n - n/8, Carried: n / 8, FirstLooked: n / 16, FoundAgain: n / 16}
	var m rowMargin
	m.addStand(&s, all, parts)
	seen := float64(n-n/16) / float64(n)
	near(t, "observed", m.observed.Sigma(), geo.SquareMeters(seen)*s.Margin.Infested.Sigma())
	var back rowMargin
	back.addStand(&s, all, StandParts{Own: n, FirstLooked: n / 16, FoundAgain: n - n/16})
	near(t, "no more than found again", back.observed.Sigma(), 0)

	p := &Previous{Margins: []margin.Form{s.Margin.Infested}, Fates: []lineage.Change{""}, Restated: []int64{2 * n}}
	var then rowMargin
	then.addKnown(p, 0, n)
	near(t, "half of what was known", then.observed.Sigma(), s.Margin.Infested.Sigma()/2)
	for what, p := range map[string]*Previous{
		"not detected":  {Margins: p.Margins, Fates: []lineage.Change{lineage.NotDetected}, Restated: p.Restated},
		"no acres":      {Margins: p.Margins, Fates: p.Fates, Restated: []int64{0}},
		"none is known": {Fates: p.Fates, Restated: p.Restated},
	} {
		var m rowMargin
		m.addKnown(p, 0, n)
		near(t, what, m.observed.Sigma(), 0)
	}
	carried := s
	carried.CarriedFrom = survey.Quarter{Year: 2026, Number: 1}
	var still rowMargin
	still.addStand(&carried, all, StandParts{Carried: n})
	near(t, "carried", still.observed.Sigma(), 0)
}

// P10 and P90 are around the acres as the error form says; canopy is never above infested acres,
// and gross acres are never below them.
func TestRangesOfAcres(t *testing.T) {
	s := doubtful(t)
	r := s.ranges()
	want := s.Margin.Infested.Area(s.Infested)
	near(t, "P10", r.infested.P10, want.P10)
	near(t, "P90", r.infested.P90, want.P90)
	if !(r.infested.P10 < s.Infested && s.Infested < r.infested.P90) {
		t.Errorf("%v about %g", r.infested, s.Infested)
	}
	all := wholeAcres(&s)
	wide, sure := s.Margin.Infested, margin.Form{}
	got := rangesOf(allocate.Share{Infested: all.Infested, Gross: all.Infested, Canopy: all.Infested}, &sure, &wide, &wide)
	near(t, "gross P10 is not below infested", got.gross.P10, s.Infested)
	near(t, "canopy P90 is not above infested", got.canopy.P90, s.Infested)
	near(t, "gross P90", got.gross.P90, want.P90)
	near(t, "canopy P10", got.canopy.P10, want.P10)
	sum := Sum{Gross: all.Gross, Infested: all.Infested, Canopy: all.Canopy}
	sum.Margin.addStand(&s, all, StandParts{Own: all.Infested})
	infested, gross, canopy, _ := sum.Ranges()
	near(t, "a row of it", infested.P90, want.P90)
	near(t, "a row's gross", gross.P90, s.ranges().gross.P90)
	near(t, "a row's canopy", canopy.P10, s.ranges().canopy.P10)
}
