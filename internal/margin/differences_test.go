package margin

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// weightsOf returns the three weights of each record's own errors (patch, position in x and in y)
// in one of a stand's acreages.
func weightsOf(s *Survey, st *stand.Stand, of func(*Stand) *Form) [][perRecord]float64 {
	causes := NewCauses()
	all := make([]int32, len(s.Records))
	for i := range all {
		all[i] = int32(i)
	}
	quarter := func(int) survey.Quarter { return q3 }
	s.Observers, s.Own = causes.Of(survey.Records{Listed: s.Records}, quarter), causes.OwnOf(len(s.Records), all, quarter)
	m := s.Of(st)
	out := make([][perRecord]float64, len(all))
	for _, t := range of(&m).shared {
		for i := range all {
			if k := t.cause - s.Own[i]; k >= 0 && k < perRecord {
				out[i][k] = t.weight
			}
		}
	}
	return out
}

// TestWeightsAreDifferences: the derivatives of each acreage by each patch and position, against
// the stand measured again with that patch or position changed slightly in both directions. The
// second stand has a default patch and cover and a dead patch among others; the third is small
// enough to count as wholly infested, so that its footprint is its perimeter.
func TestWeightsAreDifferences(t *testing.T) {
	loose := []survey.Record{
		patch(0, 0, 0, 300, "A"), patch(1, 16, 3, 250, "A"), patch(2, 30, -4, 420, "B"), patch(3, 52, 2, 180, "B"), patch(4, 47, 19, 300, "A"), patch(5, 20, 24, 60, "A"),
	}
	mixed := slices.Clone(loose)
	mixed[1].Cover, mixed[3].Cover, mixed[5].Cover = 20, 95, 100
	mixed[2].PatchArea, mixed[4].Cover, mixed[0].Status = 0, math.NaN(), survey.StandingDead
	small := []survey.Record{patch(0, 0, 0, 90, "A"), patch(1, 9, 0, 120, "A"), patch(2, 13, 8, 40, "A")}
	acreages := map[string]struct {
		form func(*Stand) *Form
		area func(*stand.Stand) geo.SquareMeters
	}{
		"infested": {func(m *Stand) *Form { return &m.Infested }, func(st *stand.Stand) geo.SquareMeters { return st.Infested }},
		"gross":    {func(m *Stand) *Form { return &m.Gross }, func(st *stand.Stand) geo.SquareMeters { return st.Gross }},
		"canopy":   {func(m *Stand) *Form { return &m.Canopy }, func(st *stand.Stand) geo.SquareMeters { return st.Canopy }},
	}
	for name, records := range map[string][]survey.Record{"loose": loose, "mixed": mixed, "small": small} {
		all := make([]int32, len(records))
		for i := range all {
			all[i] = int32(i)
		}
		rules := stand.DefaultSettings()
		st := stand.Build(records, all, rules)
		// a radius of 1.51 m is one metre of each axis
		s := &Survey{Records: records, Rules: rules, Settings: Settings{Position: geo.Meters(axis), PatchOwn: 1}}
		for what, a := range acreages {
			weights := weightsOf(s, &st, a.form)
			measured := func(i int, change func(*survey.Record)) float64 {
				other := slices.Clone(records)
				change(&other[i])
				again := stand.Build(other, all, rules)
				return float64(a.area(&again))
			}
			for i := range records {
				if records[i].PatchArea > 0 { // otherwise nothing measured can be wrong
					const step = 0.002
					grow := func(by float64) func(*survey.Record) {
						return func(r *survey.Record) { r.PatchArea *= geo.SquareMeters(1 + by) }
					}
					want := (measured(i, grow(step)) - measured(i, grow(-step))) / (2 * step)
					if got := weights[i][0]; math.Abs(got-want) > 0.01*float64(records[i].PatchArea) {
						t.Errorf("%s, %s: patch %d weighs %.3f m2, by differences %.3f", name, what, i, got, want)
					}
				}
				for k, move := range []orb.Point{{1, 0}, {0, 1}} {
					const step = 0.01
					shift := func(by float64) func(*survey.Record) {
						return func(r *survey.Record) {
							at := here.Forward(r.Position)
							r.Position = here.Inverse(orb.Point{at[0] + by*move[0], at[1] + by*move[1]})
						}
					}
					want := (measured(i, shift(step)) - measured(i, shift(-step))) / (2 * step)
					if got := weights[i][1+k]; math.Abs(got-want) > 0.05+0.01*math.Abs(want) {
						t.Errorf("%s, %s: the place of patch %d in %v weighs %.3f m2 a metre, by differences %.3f", name, what, i, move, got, want)
					}
				}
			}
		}
	}
}

// TestDefaultCoverWeighsOnCanopyAlone: for two lone patches of 100 and 300 m2 without a recorded
// cover, and a dead one, a percentage point of default cover is a hundredth of the living 400 m2 in
// canopy, and 0 in infested and gross acres. By hand.
func TestDefaultCoverWeighsOnCanopyAlone(t *testing.T) {
	records := []survey.Record{patch(0, 0, 0, 100, "A"), patch(1, 500, 0, 300, "A"), patch(2, 1000, 0, 700, "A"), patch(3, 1500, 0, 900, "A")}
	records[0].Cover, records[1].Cover, records[2].Cover = math.NaN(), math.NaN(), math.NaN()
	records[2].Status = survey.StandingDead
	_, off := total(t, records, Settings{Position: 5, DefaultCover: 20})
	near(t, "canopy", float64(off.Canopy.Sigma()), 400*0.2, 1e-9)
	if off.Infested.Sigma() > 1e-9 || off.Gross.Sigma() > 1e-9 {
		t.Errorf("infested is off by %v, gross by %v", off.Infested.Sigma(), off.Gross.Sigma())
	}
}

// TestPartsOfBothDefaults: for a sum that rests on both defaults the part is the root of their
// squares; on one default, that one with its sign; the measurements of a quarter belong to that
// quarter; errors that cancel in a change are not in its parts. By hand, 3, 4, 5.
func TestPartsOfBothDefaults(t *testing.T) {
	causes := NewCauses()
	records := []survey.Record{patch(0, 0, 0, 1, "A"), patch(1, 0, 0, 1, "B"), patch(2, 0, 0, 1, "A")}
	of := causes.Of(survey.Records{Listed: records}, func(i int) survey.Quarter { return []survey.Quarter{q4, q4, q3}[i] })
	if of[0] == of[1] || of[0] == of[2] || of[1] == of[2] || min(of[0], of[1], of[2]) < firstCause {
		t.Fatalf("causes %v", of)
	}
	again := causes.Of(survey.Records{Listed: records[:1]}, func(int) survey.Quarter { return q4 })
	if again[0] != of[0] {
		t.Errorf("one observer in one quarter has two errors: %d and %d", again[0], of[0])
	}
	for _, test := range []struct {
		name     string
		form     Form
		defaults float64
		looks    map[survey.Quarter]float64
	}{
		{"the patch", Form{shared: []term{{defaultPatch, -3}}}, -3, nil},
		{"the cover", Form{shared: []term{{defaultCover, 4}}}, 4, nil},
		{"both", Form{shared: []term{{defaultCover, 4}, {defaultPatch, -3}}}, 5, nil},
		{"its own", Form{own: 49}, 0, map[survey.Quarter]float64{q4: 7}},
		{"two crews of a quarter", Form{own: 144, shared: []term{{of[0], 3}, {of[1], 4}}}, 0, map[survey.Quarter]float64{q4: 13}},
		{"two quarters", Form{shared: []term{{of[2], 6}, {of[1], 4}}}, 0, map[survey.Quarter]float64{q3: 6, q4: 4}},
		{"what drops out", Form{shared: []term{{of[2], 6}, {of[2], -6}, {of[0], 2}}}, 0, map[survey.Quarter]float64{q4: 2}},
	} {
		off := causes.Split(&test.form, q4)
		near(t, test.name+", defaults", float64(off.Defaults), test.defaults, 1e-12)
		if len(off.Looks) != len(test.looks) || !slices.IsSortedFunc(off.Looks, func(a, b LookOff) int { return int(a.Quarter.Number - b.Quarter.Number) }) {
			t.Errorf("%s: %+v, want %v", test.name, off, test.looks)
		}
		for _, l := range off.Looks {
			near(t, test.name+", "+l.Quarter.String(), float64(l.Sigma), test.looks[l.Quarter], 1e-12)
		}
	}
}

// TestOwnErrorsOfCopies: the three errors of a record with a copy have numbers that no other error
// has, before and after those of observers; a run of numbers of one quarter belongs to that quarter
// to the last. By hand.
func TestOwnErrorsOfCopies(t *testing.T) {
	causes := NewCauses()
	quarter := func(i int) survey.Quarter { return []survey.Quarter{q3, q4, q4, q3}[i] }
	own := causes.OwnOf(4, []int32{0, 2, 3}, quarter)
	observers := causes.Of(survey.Records{Listed: []survey.Record{patch(0, 0, 0, 1, "A")}}, func(int) survey.Quarter { return q4 })
	if !slices.Equal(own, []int32{2, 0, 5, 8}) || !slices.Equal(observers, []int32{11}) {
		t.Fatalf("%v, %v", own, observers)
	}
	for cause, want := range map[int32]survey.Quarter{2: q3, 4: q3, 5: q4, 7: q4, 8: q3, 10: q3, 11: q4} {
		if got := causes.quarterOf(cause); got != want {
			t.Errorf("cause %d is of %v, want %v", cause, got, want)
		}
	}
}

// TestRangeIsOfTheLognormal: the range of an area with mean 100 and deviation 100 sqrt(e - 1) is
// that of exp(N(ln 100 - 1/2, 1)), whose median is 60.653 (Johnson, Kotz and Balakrishnan,
// Continuous Univariate Distributions 1, 1994, 14.2): of 100 000 such draws a tenth and nine tenths
// are below its ends. Where the error is so large that nine tenths are below the mean, P10 to P90
// still contains the mean.
func TestRangeIsOfTheLognormal(t *testing.T) {
	f := Form{own: 1e4 * (math.E - 1)}
	r := f.Area(100)
	near(t, "median", math.Sqrt(float64(r.P10*r.P90)), 60.65306597126334, 1e-12)
	dice := rand.New(rand.NewPCG(1, 1))
	const draws = 100_000
	low, high := 0, 0
	for range draws {
		switch x := math.Exp(math.Log(100) - 0.5 + dice.NormFloat64()); {
		case x < float64(r.P10):
			low++
		case x > float64(r.P90):
			high++
		}
	}
	near(t, "below P10", float64(low)/draws, 0.1, 0.03) // three standard errors
	near(t, "above P90", float64(high)/draws, 0.1, 0.03)
	wide := Form{own: 9e6} // thirty times the mean
	if r := wide.Area(100); r.P90 != 100 || !(r.P10 > 0 && r.P10 < 1) {
		t.Errorf("of an error of thirty times the mean: %+v", r)
	}
	if r := (&Form{}).Area(100); r != (Range{100, 100}) {
		t.Errorf("of no error: %+v", r)
	}
}

// TestScatterWidensEitherWay: the shift of the mean by scatter is added at the top and subtracted
// at the bottom, whatever its sign, and no area is below 0; in a change it is one more error. By
// hand: the hypotenuse of 1.2815516 x 3 = 3.8446547 and 4 is 5.5481.
func TestScatterWidensEitherWay(t *testing.T) {
	for _, shift := range []geo.SquareMeters{4, -4} {
		f := Form{shift: shift}
		if r := f.Area(10); r != (Range{6, 14}) {
			t.Errorf("shifted by %g: %+v", shift, r)
		}
		if r := f.Area(3); r != (Range{0, 7}) {
			t.Errorf("shifted by %g, near nothing: %+v", shift, r)
		}
		f.own = 9
		c := f.Change(-2)
		near(t, "P10 of a change", float64(c.P10), -2-5.54812, 1e-5)
		near(t, "P90 of a change", float64(c.P90), -2+5.54812, 1e-5)
	}
	var change, before Form
	change.shift, before.shift, before.own = 7, 5, 16
	change.Add(before, -0.5)
	near(t, "shift of a difference", float64(change.shift), 4.5, 1e-12)
	near(t, "deviation of a difference", float64(change.Sigma()), 2, 1e-12)
}

// TestScatterOfRows: the mean shift for 240 rows of overlapping patches equals the mean effect of
// drawing the positions of their records eight times: touching patches overlap more. A lone patch
// has the same area anywhere.
func TestScatterOfRows(t *testing.T) {
	dice := rand.New(rand.NewPCG(4, 4))
	s := Survey{Rules: stand.DefaultSettings(), Settings: Settings{Position: 6}}
	off := 6 / math.Sqrt(-2*math.Log(0.32))
	var told, drawn geo.SquareMeters
	for n := range 240 {
		var all []int32
		s.Records = nil
		sin, cos := math.Sincos(float64(n)) // rows in every direction
		for i := range 3 + n%5 {
			x, y := float64(i)*(9+float64(n%4)), float64(n%3)*float64(i%2)*5
			s.Records = append(s.Records, patch(i, x*cos-y*sin, x*sin+y*cos, 80+7*float64(n%6), "A"))
			all = append(all, int32(i))
		}
		st := stand.Build(s.Records, all, s.Rules)
		told += s.scattered(st.Lay(s.Records, s.Rules), true).Infested
		const draws = 8
		for range draws {
			moves := make([][2]float64, len(all))
			for i := range moves {
				moves[i] = [2]float64{off * dice.NormFloat64(), off * dice.NormFloat64()}
			}
			drawn += st.Lay(s.Records, s.Rules).Scattered([][][2]float64{moves}, true).Infested / draws
		}
	}
	if drawn > -1000 { // otherwise there is nothing to compare
		t.Fatalf("scatter adds %v m2 to patches that touch", drawn)
	}
	near(t, "shift of all rows", float64(told), float64(drawn), 0.1)
	s.Records = s.Records[:1]
	if one := stand.Build(s.Records, []int32{0}, s.Rules); s.scattered(one.Lay(s.Records, s.Rules), true) != (stand.Areas{}) {
		t.Error("a lone patch has a shift")
	}
}

// TestInfestedAloneIsTheSame: the error of infested acres, computed alone or with the others.
func TestInfestedAloneIsTheSame(t *testing.T) {
	records := []survey.Record{patch(0, 0, 0, 100, "A"), patch(1, 11, 0, 120, "B"), patch(2, 22, 3, 90, "A")}
	s := Survey{Records: records, Observers: NewCauses().Of(survey.Records{Listed: records}, func(int) survey.Quarter { return q3 }), Rules: stand.DefaultSettings(), Settings: DefaultSettings()}
	st := stand.Build(records, []int32{0, 1, 2}, s.Rules)
	alone, all := s.Infested(&st), s.Of(&st)
	if alone.shift == 0 || alone.shift != all.Infested.shift || alone.Area(st.Infested) != all.Infested.Area(st.Infested) {
		t.Errorf("%+v, with the others %+v", alone, all.Infested)
	}
}

// TestSettingsAtTheEdge: values at the limits of a range are accepted; beyond them the error names
// the setting.
func TestSettingsAtTheEdge(t *testing.T) {
	if got := DefaultSettings(); got != (Settings{Position: 5, PatchOwn: 0.4, PatchShared: 0.1, DefaultPatch: 0.5, DefaultCover: 20}) {
		t.Errorf("%+v", got)
	}
	for _, s := range []Settings{{Position: 0.01}, {Position: 1, PatchOwn: 1, PatchShared: 1, DefaultPatch: 1, DefaultCover: 100}} {
		if err := s.Validate(); err != nil {
			t.Errorf("%+v: %v", s, err)
		}
	}
	for want, s := range map[string]Settings{
		"position uncertainty must be above 0 m, got 0":                {},
		"own patch error must be 0 to 1 times the patch, got 1.01":     {Position: 1, PatchOwn: 1.01},
		"shared patch error must be 0 to 1 times the patch, got -0.01": {Position: 1, PatchShared: -0.01},
		"default patch error must be 0 to 1 times the patch, got 1.5":  {Position: 1, DefaultPatch: 1.5},
		"default cover error must be 0 to 100 points, got 100.5":       {Position: 1, DefaultCover: 100.5},
		"default cover error must be 0 to 100 points, got -1":          {Position: 1, DefaultCover: -1},
		"position uncertainty must be above 0 m, got -3":               {Position: -3},
		"default patch error must be 0 to 1 times the patch, got NaN":  {Position: 1, DefaultPatch: math.NaN()},
	} {
		if err := s.Validate(); err == nil || err.Error() != want {
			t.Errorf("%v, want %q", err, want)
		}
	}
}
