package margin

import (
	"math"
	"math/rand/v2"
	"testing"

	"driftreach/geo"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// survey3 is records of the third quarter, all of one stand, as a Survey.
func survey3(records []survey.Record, s Settings) (Survey, stand.Stand) {
	of := Survey{Records: records, Observers: NewCauses().Of(survey.Records{Listed: records}, func(int) survey.Quarter { return q3 }), Rules: stand.DefaultSettings(), Settings: s}
	all := make([]int32, len(records))
	for i := range all {
		all[i] = int32(i)
	}
	return of, stand.Build(records, all, of.Rules)
}

// TestEvenCoverIsAShare: where every patch has the same cover, canopy is that share of the infested
// area, with any overlaps, and so is its error, from every cause and from scatter.
func TestEvenCoverIsAShare(t *testing.T) {
	records := []survey.Record{patch(0, 0, 0, 300, "A"), patch(1, 14, 3, 250, "B"), patch(2, 25, -4, 420, "A")}
	for i := range records {
		records[i].Cover = 45
	}
	for name, s := range map[string]Settings{
		"own": {Position: 0.001, PatchOwn: 0.3}, "shared": {Position: 0.001, PatchShared: 0.3}, "places": {Position: 9},
		"all": {Position: 5, PatchOwn: 0.4, PatchShared: 0.1, DefaultPatch: 0.5, DefaultCover: 20},
	} {
		of, st := survey3(records, s)
		m := of.Of(&st)
		near(t, name+": canopy", float64(st.Canopy), 0.45*float64(st.Infested), 1e-12)
		near(t, name+": off", float64(m.Canopy.Sigma()), 0.45*float64(m.Infested.Sigma()), 1e-9)
		near(t, name+": scatter", float64(m.Canopy.shift), 0.45*float64(m.Infested.shift), 1e-12)
		if m.Infested.shift == 0 || m.Infested.Sigma() == 0 {
			t.Errorf("%s: nothing is off", name)
		}
	}
}

// TestSmallestNumbers: values below 1 are handled like larger ones. By hand: a patch of half a
// square metre without a recorded cover, with the default off by half a point; an area of a quarter
// of a square metre; a position off by half a metre; a variance of a quarter.
func TestSmallestNumbers(t *testing.T) {
	tiny := patch(0, 0, 0, 0.5, "A")
	tiny.Cover = math.NaN()
	of, st := survey3([]survey.Record{tiny}, Settings{Position: 5, PatchOwn: 0.4, DefaultCover: 0.5})
	m := of.Of(&st)
	near(t, "canopy", float64(m.Canopy.Sigma()), math.Hypot(0.6*0.4*0.5, 0.5*0.005), 1e-9)

	f := Form{own: 0.25}
	if r := f.Area(0.25); !(r.P10 > 0 && r.P10 < 0.25 && r.P90 >= 0.25) {
		t.Errorf("of a quarter of a square metre: %+v", r)
	}
	if off := NewCauses().Split(&f, q4); len(off.Looks) != 1 || off.Looks[0] != (LookOff{q4, 0.5}) {
		t.Errorf("of a variance of a quarter: %+v", off)
	}

	records := []survey.Record{patch(0, 0, 0, 300, "A"), patch(1, 14, 0, 300, "A")}
	records[0].Uncertainty, records[1].Uncertainty = 0.5, 0.5
	of, st = survey3(records, Settings{Position: 5})
	near(t, "half a metre", float64(of.Infested(&st).own), 2*math.Pow(2*math.Sqrt(300/math.Pi-49)*0.5/1.5095921854516636, 2), 1e-9)
}

// TestScatterOfAPair: two patches are scattered in the same way as more: two draws, each in both
// directions, that depend only on the number of records, so that a stand keeps its figure from one
// batch to the next. Drawn again here.
func TestScatterOfAPair(t *testing.T) {
	for _, n := range []int{2, 3, 7} {
		var records []survey.Record
		for i := range n {
			records = append(records, patch(i, 18*float64(i), 0, 300, "A"))
		}
		of, st := survey3(records, Settings{Position: 6})
		dice := rand.New(rand.NewPCG(uint64(n), 17))
		moves := make([][][2]float64, 2)
		for k := range moves {
			for range n {
				x := dice.NormFloat64()
				moves[k] = append(moves[k], [2]float64{6 / axis * x, 6 / axis * dice.NormFloat64()})
			}
		}
		want := st.Lay(records, of.Rules).Scattered(moves, false).Infested
		if got := of.Infested(&st).shift; want == 0 || got != want {
			t.Errorf("%d patches: %v, drawn again %v", n, got, want)
		}
	}
}

// TestFormsAreCopied: a copied form has the same error as the original, whichever is used first:
// patches of one observer are one cause in both.
func TestFormsAreCopied(t *testing.T) {
	records := []survey.Record{patch(0, 0, 0, 300, "A"), patch(1, 14, 0, 250, "B"), patch(2, 28, 0, 200, "A"), patch(3, 42, 0, 350, "B")}
	of, st := survey3(records, Settings{Position: 5, PatchShared: 0.2})
	for name, f := range map[string]Form{"alone": of.Infested(&st), "with others": of.Of(&st).Infested} {
		other := f
		first, second := f.Sigma(), other.Sigma()
		if first != second || !(first > 0) {
			t.Errorf("%s: %v, its copy %v", name, first, second)
		}
	}
}

// TestFormsStaySmall: a sum over more and more stands of a few observers has only the terms of
// these and the ones not settled yet.
func TestFormsStaySmall(t *testing.T) {
	var f Form
	for i := range 5000 {
		if f.share(int32(i%7), 1); len(f.shared) > 2*7+fewTerms {
			t.Fatalf("%d terms of seven causes after %d", len(f.shared), i+1)
		}
	}
	near(t, "sigma", float64(f.Sigma()), math.Sqrt(2*math.Pow(715, 2)+5*math.Pow(714, 2)), 1e-12) // 5000 are 7 times 714 and 2
}

// TestCausesInARow: consecutive causes of one quarter are one block, numbered without a gap, so
// that a thousand carried records do not need a thousand blocks.
func TestCausesInARow(t *testing.T) {
	causes := NewCauses()
	records := []survey.Record{patch(0, 0, 0, 1, "A"), patch(1, 0, 0, 1, "B"), patch(2, 0, 0, 1, "C"), patch(3, 0, 0, 1, "A")}
	of := causes.Of(survey.Records{Listed: records}, func(int) survey.Quarter { return q3 })
	if of[0] != firstCause || of[1] != firstCause+1 || of[2] != firstCause+2 || of[3] != of[0] {
		t.Errorf("causes %v", of)
	}
	causes.OwnOf(4, []int32{0, 1, 2, 3}, func(int) survey.Quarter { return q3 })
	if len(causes.blocks) != 1 || causes.next != firstCause+3+4*perRecord {
		t.Errorf("%v, next %d", causes.blocks, causes.next)
	}
}

// TestNothingDefaultIsOff: a default without error adds nothing to the parts, and gives no error.
func TestNothingDefaultIsOff(t *testing.T) {
	record := patch(0, 0, 0, 0, "A")
	record.Cover = math.NaN()
	of, st := survey3([]survey.Record{record}, Settings{Position: 5, PatchOwn: 0.4, PatchShared: 0.1})
	m := of.Of(&st)
	for name, f := range map[string]*Form{"infested": &m.Infested, "gross": &m.Gross, "canopy": &m.Canopy} {
		off := NewCauses().Split(f, q4)
		if off.Defaults != 0 || f.Sigma() > 1e-9 { // a position without effect has one to rounding
			t.Errorf("%s: %+v", name, off)
		}
	}
	near(t, "rests on the default", float64(m.Resting.Infested), float64(geo.Acres(0.1).SquareMeters()), 1e-9)
}

// TestFarOffInAnyDirection: half a patch is the most that its position changes, in whatever
// direction the other patch is: of two discs of 380 m2 that overlap by a chord. By hand, as
// TestPositionOfTwo.
func TestFarOffInAnyDirection(t *testing.T) {
	r := math.Sqrt(380 / math.Pi)
	chord := 2 * math.Sqrt(r*r-49)
	for _, angle := range []float64{0.3, 1.2, 2.5, 4} {
		records := []survey.Record{patch(0, 0, 0, 380, "A"), patch(1, 14*math.Cos(angle), 14*math.Sin(angle), 380, "A")}
		records[1].Uncertainty = 1000
		of, st := survey3(records, Settings{Position: 2})
		f := of.Infested(&st)
		near(t, "far off", float64(f.Sigma()), math.Hypot(chord*2/1.5095921854516636, 190), 1e-4)
	}
}
