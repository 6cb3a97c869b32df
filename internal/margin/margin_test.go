package margin

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

var (
	q3   = survey.Quarter{Year: 2026, Number: 3}
	q4   = survey.Quarter{Year: 2026, Number: 4}
	here = earth.NewFrame(orb.Point{-98.4, 36.2})
)

// patch is a measured find with 60 % cover at metres from a middle; area 0 means not measured.
func patch(n int, x, y, area float64, by string) survey.Record {
	return survey.Record{
		ID: fmt.Sprintf("%04d", n), Position: here.Inverse(orb.Point{x, y}), Detected: true,
		PatchArea: geo.SquareMeters(area), Cover: 60, StemHeight: geo.Meters(math.NaN()), Notes: survey.Notes{RecordedBy: by}.Pack(),
	}
}

// total maps the records and returns their infested acres with the error.
func total(t testing.TB, records []survey.Record, s Settings) (area geo.SquareMeters, sum Stand) {
	t.Helper()
	causes := NewCauses()
	of := Survey{
		Records: records, Observers: causes.Of(survey.Records{Listed: records}, func(int) survey.Quarter { return q3 }),
		Rules: stand.DefaultSettings(), Settings: s,
	}
	stands, _, err := stand.Map(records, q3, of.Rules, 1)
	if err != nil {
		t.Fatal(err)
	}
	for i := range stands {
		m := of.Of(&stands[i])
		area += stands[i].Infested
		sum.Infested.Add(m.Infested, 1)
		sum.Gross.Add(m.Gross, 1)
		sum.Canopy.Add(m.Canopy, 1)
		sum.Resting.Infested += m.Resting.Infested
		sum.Resting.Canopy += m.Resting.Canopy
	}
	return area, sum
}

// halfRange is half of the P10 to P90 range as a share of an area.
func halfRange(area geo.SquareMeters, f Form) float64 {
	r := f.Area(area)
	return float64((r.P90 - r.P10) / 2 / area)
}

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// TestOwnErrorsAverageOut: independent errors average out, common ones do not. By hand: an own
// error of 40 % on 327 equal patches is 1.28 x 0.4 / sqrt(327) = 2.8 % of the sum; on patches with
// lognormal areas of deviation 0.8 it is sqrt(exp(0.64)) times that, 3.9 %; a common 20 % for each
// of three crews is 1.28 x 0.2 / sqrt(3) = 14.8 %.
func TestOwnErrorsAverageOut(t *testing.T) {
	lay := func(area func(i int) float64) []survey.Record {
		var out []survey.Record
		for i := range 327 {
			out = append(out, patch(i, float64(i%18)*200, float64(i/18)*200, area(i), string(rune('A'+i%3))))
		}
		return out
	}
	equal := lay(func(int) float64 { return 110 })
	area, off := total(t, equal, Settings{Position: 5, PatchOwn: 0.4})
	near(t, "own, equal patches", halfRange(area, off.Infested), 1.2816*0.4/math.Sqrt(327), 0.01)

	// the quantiles of the lognormal, so that nothing depends on chance
	unequal := lay(func(i int) float64 { return 110 * math.Exp(0.8*math.Sqrt2*math.Erfinv(2*(float64(i)+0.5)/327-1)) })
	area, off = total(t, unequal, Settings{Position: 5, PatchOwn: 0.4})
	near(t, "own, unequal patches", halfRange(area, off.Infested), 0.039, 0.03)

	area, off = total(t, equal, Settings{Position: 5, PatchShared: 0.2})
	near(t, "shared by three crews", halfRange(area, off.Infested), 0.148, 0.01)
}

// TestOnePatch: its own error is lognormal, so P10 and P90 are the quantiles for mean 1 and
// deviation 0.4; by hand. Its position has no effect.
func TestOnePatch(t *testing.T) {
	area, off := total(t, []survey.Record{patch(0, 0, 0, 500, "A")}, Settings{Position: 50, PatchOwn: 0.4})
	v := math.Log(1.16)
	r := off.Infested.Area(area)
	near(t, "P10", float64(r.P10), 500*math.Exp(-1.2815515655*math.Sqrt(v)-v/2), 1e-9)
	near(t, "P90", float64(r.P90), 500*math.Exp(1.2815515655*math.Sqrt(v)-v/2), 1e-9)
	near(t, "canopy", float64(off.Canopy.Sigma()), 0.6*0.4*500, 1e-9)
}

// TestPositionOfTwo: two overlapping discs gain their common chord for each metre they move apart,
// each by its own error in that direction only; by hand. For a large error, half a patch is the
// most that its position changes.
func TestPositionOfTwo(t *testing.T) {
	const r, d = 11.0, 14.0
	area := math.Pi * r * r
	records := []survey.Record{patch(0, 0, 0, area, "A"), patch(1, d, 0, area, "A")}
	records[1].Uncertainty = 3
	_, off := total(t, records[:1], Settings{Position: 2})
	near(t, "alone", 1+float64(off.Infested.Sigma()), 1, 1e-12)

	rules := stand.DefaultSettings()
	rules.MinPoints = 1
	st := stand.Build(records, []int32{0, 1}, rules)
	of := Survey{Records: records, Observers: []int32{firstCause, firstCause}, Rules: rules, Settings: Settings{Position: 2}}
	chord := 2 * math.Sqrt(r*r-d*d/4)
	m := of.Of(&st)
	near(t, "two", float64(m.Infested.Sigma()), chord*math.Hypot(2, 3)/1.5096, 1e-4)

	records[1].Uncertainty = 1000
	m = of.Of(&st)
	near(t, "far off", float64(m.Infested.Sigma()), math.Hypot(chord*2/1.5096, area/2), 1e-4)
}

// TestWhatIsSharedIsAddedFirst: by hand, for two lone patches of 100 and 300 m2.
func TestWhatIsSharedIsAddedFirst(t *testing.T) {
	for _, c := range []struct {
		name string
		b    [2]string
		s    Settings
		want float64
	}{
		{"own", [2]string{"A", "A"}, Settings{Position: 5, PatchOwn: 0.1}, 0.1 * math.Hypot(100, 300)},
		{"one observer", [2]string{"A", "A"}, Settings{Position: 5, PatchShared: 0.1}, 0.1 * 400},
		{"nobody named", [2]string{"", ""}, Settings{Position: 5, PatchShared: 0.1}, 0.1 * 400},
		{"two observers", [2]string{"A", "B"}, Settings{Position: 5, PatchShared: 0.1}, 0.1 * math.Hypot(100, 300)},
		{"both", [2]string{"A", "B"}, Settings{Position: 5, PatchOwn: 0.3, PatchShared: 0.4}, 0.5 * math.Hypot(100, 300)},
	} {
		_, off := total(t, []survey.Record{patch(0, 0, 0, 100, c.b[0]), patch(1, 500, 0, 300, c.b[1])}, c.s)
		near(t, c.name, float64(off.Infested.Sigma()), c.want, 1e-9)
	}
}

// TestDefaults: two lone unmeasured finds have a common error, in area and cover; a measured one
// rests on no default. By hand: 0.1 acre is 404.686 m2.
func TestDefaults(t *testing.T) {
	const tenth = 404.68564224
	records := []survey.Record{patch(0, 0, 0, 0, "A"), patch(1, 500, 0, 0, "B"), patch(2, 1000, 0, 300, "A")}
	records[0].Cover = math.NaN()
	_, off := total(t, records, Settings{Position: 5, DefaultPatch: 0.5, DefaultCover: 20})
	near(t, "infested", float64(off.Infested.Sigma()), 0.5*2*tenth, 1e-9)
	near(t, "canopy", float64(off.Canopy.Sigma()), math.Hypot(0.6*0.5*2*tenth, 0.2*tenth), 1e-9)
	near(t, "rests on a default patch", float64(off.Resting.Infested), 2*tenth, 1e-9)
	near(t, "canopy rests on defaults", float64(off.Resting.Canopy), 0.6*2*tenth, 1e-9)
}

// TestWhatBothQuartersShareDropsOut: a change has no error for unmeasured finds, and for a carried
// one; for one measured again it has both errors.
func TestWhatBothQuartersShareDropsOut(t *testing.T) {
	s := Settings{Position: 5, PatchOwn: 0.4, PatchShared: 0.2, DefaultPatch: 0.5}
	then := []survey.Record{patch(0, 0, 0, 0, "A"), patch(1, 500, 0, 200, "A"), patch(2, 510, 0, 200, "A"), patch(3, 1000, 0, 100, "A")}
	now := slices.Clone(then)
	causes := NewCauses()
	from := func(i int) survey.Quarter { // the pair at 500 m is carried
		if i == 1 || i == 2 {
			return q3
		}
		return q4
	}
	own := causes.OwnOf(4, []int32{1, 2}, from)
	before := Survey{then, causes.Of(survey.Records{Listed: then}, func(int) survey.Quarter { return q3 }), own, stand.DefaultSettings(), s}
	after := Survey{now, causes.Of(survey.Records{Listed: now}, from), own, stand.DefaultSettings(), s}
	change := func(members ...int32) float64 {
		st := stand.Build(now, members, after.Rules)
		f := after.Infested(&st)
		f.Add(before.Infested(&st), -1)
		return float64(f.Sigma())
	}
	near(t, "not measured", 1+change(0), 1, 1e-12)
	near(t, "carried", 1+change(1, 2), 1, 1e-12)
	near(t, "measured again", change(3), 100*math.Hypot(0.4, 0.2)*math.Sqrt2, 1e-9)
}

// TestUnchangedPlants: plants that do not change, measured twice with exactly the set errors: P10
// to P90 of the change contains 0 in 80 % of the cases. With 400 cases 80 % has a standard error of
// 2 points.
func TestUnchangedPlants(t *testing.T) {
	const cases = 400
	s := Settings{Position: 4, PatchOwn: 0.3, PatchShared: 0.1}
	r := rand.New(rand.NewPCG(3, 8))
	var truth []survey.Record
	for i := range 12 {
		truth = append(truth, patch(i, float64(i%6)*14, float64(i/6)*300, 60+20*float64(i%7), string(rune('A'+i%2))))
	}
	causes := NewCauses()
	measure := func(q survey.Quarter) (geo.SquareMeters, Form) {
		factor := func(off float64) geo.SquareMeters {
			v := math.Log1p(off * off)
			return geo.SquareMeters(math.Exp(math.Sqrt(v)*r.NormFloat64() - v/2))
		}
		shared := map[string]geo.SquareMeters{"A": factor(s.PatchShared), "B": factor(s.PatchShared)}
		records := slices.Clone(truth)
		for i := range records {
			at, off := here.Forward(truth[i].Position), float64(s.Position)/1.5096
			records[i].Position = here.Inverse(orb.Point{at[0] + off*r.NormFloat64(), at[1] + off*r.NormFloat64()})
			records[i].PatchArea *= factor(s.PatchOwn) * shared[records[i].RecordedBy()]
		}
		of := Survey{Records: records, Observers: causes.Of(survey.Records{Listed: records}, func(int) survey.Quarter { return q }), Rules: stand.DefaultSettings(), Settings: s}
		var area geo.SquareMeters
		var sum Form
		for row := range int32(2) {
			st := stand.Build(records, []int32{6 * row, 6*row + 1, 6*row + 2, 6*row + 3, 6*row + 4, 6*row + 5}, of.Rules)
			area += st.Infested
			sum.Add(of.Infested(&st), 1)
		}
		return area, sum
	}
	held := 0
	for range cases {
		before, then := measure(q3)
		after, now := measure(q4)
		now.Add(then, -1)
		if change := now.Change(after - before); change.P10 <= 0 && 0 <= change.P90 {
			held++
		}
	}
	t.Logf("%.1f %%", 100*float64(held)/cases)
	if share := float64(held) / cases; share < 0.75 || share > 0.85 {
		t.Errorf("P10 to P90 holds 0 in %.1f %% of the cases, want 80 %%", 100*share)
	}
}

// TestForm: terms of one cause add up, in any order and number.
func TestForm(t *testing.T) {
	var many, one Form
	for i := range 1000 {
		many.share(int32(999-i)%7, float64(i%3))
	}
	for c := range 7 {
		sum := 0.0
		for i := range 1000 {
			if (999-i)%7 == c {
				sum += float64(i % 3)
			}
		}
		one.share(int32(c), sum)
	}
	many.own, one.own = 9, 9
	near(t, "sigma", float64(many.Sigma()), float64(one.Sigma()), 1e-12)
	if len(many.shared) != 7 {
		t.Errorf("%d terms", len(many.shared))
	}
	many.Add(one, -1)
	near(t, "what is left", float64(many.Sigma()), math.Sqrt(18), 1e-12)
	if r := one.Area(0); r != (Range{}) {
		t.Errorf("an area of 0 is off by %+v", r)
	}
}

func TestValidate(t *testing.T) {
	if err := DefaultSettings().Validate(); err != nil {
		t.Error(err)
	}
	for _, s := range []Settings{{}, {Position: 1, PatchOwn: -1}, {Position: 1, PatchShared: 2}, {Position: 1, DefaultPatch: math.NaN()}, {Position: 1, DefaultCover: 101}} {
		if s.Validate() == nil {
			t.Errorf("%+v is valid", s)
		}
	}
}
