package trend

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"driftreach/internal/margin"
)

// By hand: a fall of 7 acres over eight quarters is a trend. If each end has an independent error
// of 3, the change has 1.2816 times 4.243; if 4, 7.25, more than the change. Common errors cancel:
// a default by which each is off by 50, and measurements made before the first look.
func TestNoVerdictWithinTheDoubtOfAcreage(t *testing.T) {
	for _, c := range []struct {
		own, defaults, before, doubt float64
		want                         Direction
	}{
		{0, 0, 0, 0, Falling}, {3, 0, 0, 5.4371, Falling}, {4, 0, 0, 7.2496, NoTrend}, {3, 50, 0, 5.4371, Falling}, {3, 0, 50, 5.4371, Falling},
	} {
		batches := totals(t, "2024Q1", 20, 19, 18, 17, 16, 15, 14, 13)
		for k := range batches {
			at := batches[k].Quarter.Ordinal()
			off := &Off{Defaults: c.defaults, Looks: map[int]float64{at: c.own * c.own, batches[0].Quarter.Ordinal() - 1: c.before * c.before}}
			batches[k].Apart, batches[k].Rows[0].Off = false, &[offs]*Off{off, off}
			batches[k].Rows[0].Figures[Live.Step()], batches[k].Rows[0].Figures[Infested.Step()], batches[k].Rows[0].Figures[Zone.Step()] = -PerUnit, -PerUnit, -PerUnit
			batches[k].Rows[0].Figures[FirstLookedAt], batches[k].Rows[0].Figures[Carried] = 0, 0
		}
		h, err := Assemble(batches, DefaultRules())
		if err != nil {
			t.Fatal(err)
		}
		got := h.Trend(0, Live)
		if got.Direction != c.want || !got.DoubtKnown || !near(got.Doubt, c.doubt, 1e-4) {
			t.Errorf("%+v: %s, %v", c, got.Words(), got.Doubt)
		}
		if c.want == NoTrend && got.Words() != "no trend shown: -4.00 acres a year, p = 0.014, but the change of -7.00 is within its error of 7.25" {
			t.Error(got.Words())
		}
		// A measure without its own errors takes those of infested acres in proportion.
		if d := h.Trend(0, Zone).Doubt; !near(d, got.Doubt, 1e-9) {
			t.Errorf("zone: %v", d)
		}
	}
}

// A batch without errors withholds no verdict, and the verdict says so.
func TestDoubtThatIsNotKnown(t *testing.T) {
	got := trendOf(t, DefaultRules(), "2024Q1", 20, 19, 18, 17, 16, 15, 14, 13)
	if got.DoubtKnown || got.Direction != Falling || !strings.Contains(got.Verdict(), "the error of the acreage itself is not known") {
		t.Errorf("%+v", got)
	}
}

// ground is a place of known acres, surveyed in some quarters.
type ground struct {
	acres    float64
	crew     int
	measured bool // otherwise it has the default patch
	looked   func(k int) bool
}

// The errors of the grounds below: of a patch alone, common to all that a crew measures in a
// quarter, and of the default.
const (
	ownError, crewError, defaultError = 0.4, 0.1, 0.5
)

// surveyOf makes batches of unchanged grounds, as measured, with every error drawn once.
func surveyOf(t *testing.T, r *rand.Rand, grounds []ground, quarters int) []Batch {
	byDefault := defaultError * r.NormFloat64()
	last := make([]int, len(grounds)) // look
	told := make([]float64, len(grounds))
	for i := range last {
		last[i] = -1
	}
	var batches []Batch
	q := quarter(t, "2024Q1")
	start := q.Ordinal()
	for k := range quarters {
		crews := [3]float64{crewError * r.NormFloat64(), crewError * r.NormFloat64(), crewError * r.NormFloat64()}
		step, first, own := 0.0, 0.0, 0.0
		for i, g := range grounds {
			if !g.looked(k) {
				continue
			}
			now := g.acres * (1 + byDefault)
			if g.measured {
				now = g.acres * (1 + ownError*r.NormFloat64() + crews[g.crew])
			}
			if own += now; last[i] < 0 {
				first += now
			} else {
				step += now - told[i]
			}
			told[i], last[i] = now, k
		}
		all, carried := 0.0, 0.0
		looks := map[int]float64{}
		shared := map[[2]int]float64{}
		defaults := 0.0
		for i, g := range grounds {
			switch all += told[i]; {
			case last[i] < 0:
				continue
			case g.measured:
				looks[start+last[i]] += math.Pow(ownError*g.acres, 2)
				shared[[2]int{start + last[i], g.crew}] += crewError * g.acres
			default:
				defaults += defaultError * g.acres
			}
			if last[i] != k {
				carried += told[i]
			}
		}
		for by, weight := range shared {
			looks[by[0]] += weight * weight
		}
		row := NewRow("total")
		for m, v := range map[Measure]float64{Live: all, Infested: all, Live.Step(): step, Infested.Step(): step, FirstLookedAt: first, Carried: carried} {
			row.Figures[m] = int64(math.Round(v * PerUnit))
		}
		if k == 0 {
			row.Figures[FirstLookedAt], row.Figures[Live.Step()], row.Figures[Infested.Step()] = Blank, Blank, Blank
		}
		off := &Off{Defaults: defaults, Looks: looks}
		row.Off = &[offs]*Off{off, off}
		row.Looks = []Look{{q, 1}}
		batches = append(batches, Batch{Quarter: q, Rows: []Row{row}})
		q = q.Next()
	}
	return batches
}

// The doubt of a change against brute force: unchanged grounds measured 1500 times, with every
// error drawn. A standard deviation from so many has an error of 2 %. Where carried ground was
// measured by the same crews, or ground comes in on the way, the doubt is an upper limit.
func TestDoubtAgainstBruteForce(t *testing.T) {
	const draws, quarters = 1500, 6
	turns := func(i int) func(int) bool { return func(k int) bool { return k == 0 || k%3 == i%3 } }
	once := func(k int) bool { return k == 0 }
	always := func(int) bool { return true }
	for _, c := range []struct {
		name      string
		ground    func(i int) ground
		low, high float64 // limits of the doubt over that of the draws
	}{
		{"looked at each quarter", func(i int) ground { return ground{1, i % 3, true, always} }, 0.95, 1.05},
		{"by turns", func(i int) ground { return ground{1 + float64(i%4), i % 3, true, turns(i)} }, 0.95, 1.05},
		{"nothing measured", func(i int) ground { return ground{1, 0, false, always} }, 1, 1},
		{"half not measured", func(i int) ground { return ground{1, i % 3, i%2 == 0, always} }, 0.95, 1.05},
		{"half never again", func(i int) ground {
			if i%2 == 0 {
				return ground{1, i % 3, true, once}
			}
			return ground{1, i % 3, true, always}
		}, 0.97, 1.35},
		{"new ground each quarter", func(i int) ground { return ground{1, i % 3, true, func(k int) bool { return 5*k >= i }} }, 0.97, 1.35},
	} {
		t.Run(c.name, func(t *testing.T) {
			var grounds []ground
			for i := range 24 {
				grounds = append(grounds, c.ground(i))
			}
			r := rand.New(rand.NewPCG(7, 11))
			square, doubt := 0.0, 0.0
			for range draws {
				h := &History{}
				if err := h.assemble(surveyOf(t, r, grounds, quarters)); err != nil {
					t.Fatal(err)
				}
				chain := h.Chain(0, Live)
				off := float64(chain[quarters-1]-chain[0]) / PerUnit
				square += off * off
				half, ok := h.doubt(&h.Sections[0], Live, Trend{First: h.Quarters[0], Last: h.Quarters[quarters-1]})
				if !ok {
					t.Fatal("not known")
				}
				doubt += half / margin.Tenth / draws
			}
			brute := math.Sqrt(square / draws)
			t.Logf("%.3f, by brute force %.3f", doubt, brute)
			if brute == 0 && doubt < 1e-6 {
				return
			}
			if by := doubt / brute; by < c.low || by > c.high {
				t.Errorf("%.3f acres, by brute force %.3f", doubt, brute)
			}
		})
	}
}

// By hand: a change over four quarters, of which the second has ground that is half first surveyed then. What both
// ends have in common cancels; in a batch that does not continue the one before it nothing of measurements does.
func TestDoubtByHand(t *testing.T) {
	q := quarter(t, "2025Q1")
	h := &History{Apart: make([]bool, 4)}
	s := &Section{Figures: make([]*Figures, 4), Offs: make([]*[offs]*Off, 4)}
	for k := range 4 {
		h.Quarters = append(h.Quarters, q)
		f := NewRow("total").Figures
		f[Infested] = 2 * PerUnit
		s.Figures[k] = &f
		q = q.Next()
	}
	at := func(k int) int { return h.Quarters[k].Ordinal() }
	s.Figures[1][FirstLookedAt] = PerUnit
	off := func(k int, defaults float64, looks map[int]float64) {
		s.Offs[k] = &[offs]*Off{offInfested: {Defaults: defaults, Looks: looks}}
	}
	off(0, 3, map[int]float64{at(0): 16})
	off(1, 3, map[int]float64{at(1): 8})
	off(3, 3, map[int]float64{at(0): 16, at(3): 9})
	over := Trend{First: h.Quarters[0], Last: h.Quarters[3]}
	if got, ok := h.doubt(s, Infested, over); !ok || !near(got, 1.2815515655446004*math.Sqrt(9+8*0.5), 1e-12) {
		t.Errorf("with ground first surveyed on the way: %v", got)
	}
	off(3, 7, map[int]float64{at(3): 9})
	h.Apart[2] = true
	if got, ok := h.doubt(s, Infested, over); !ok || !near(got, 1.2815515655446004*math.Sqrt(4*4+16+9), 1e-12) {
		t.Errorf("apart: %v", got)
	}
}
