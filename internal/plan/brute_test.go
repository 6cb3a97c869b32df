package plan

import (
	"context"
	"math"
	"math/bits"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/survey"
)

// brute plans first treatments by looking at every set: its works are the stands' blocks in turn.
type brute struct {
	s      Settings
	stands []Stand
	works  [][2]int // stand and block
	done   uint64
	due    []Cost // by quarter: follow-up of what was planned
}

func newBrute(s Settings, stands []Stand) *brute {
	b := &brute{s: s, stands: stands, due: make([]Cost, 200)}
	for i, st := range stands {
		for k := range st.Waiting {
			b.works = append(b.works, [2]int{i, k})
		}
	}
	return b
}

// cost and value of a set in a quarter; ok is false where a rule forbids it.
func (b *brute) weigh(set uint64, q int) (cost, value float64, outliers int, ok bool) {
	sites := map[int32]bool{}
	acre := float64(b.s.PerAcre)
	if b.s.PerAcre == 0 && b.s.SetUp == 0 {
		acre = 1
	}
	has := func(w int) bool { return (set|b.done)>>w&1 == 1 }
	for w, at := range b.works {
		if set>>w&1 == 0 {
			continue
		}
		st := &b.stands[at[0]]
		if st.Windows[q].Why != "" || b.done>>w&1 == 1 {
			return 0, 0, 0, false
		}
		for v, other := range b.works { // the block above, and the whole of every stand that reaches it
			if other[0] == at[0] && other[1] < at[1] && !has(v) {
				return 0, 0, 0, false
			}
			above := &b.stands[other[0]]
			for _, reached := range above.Reaches {
				if int(reached) == at[0] && other[0] != at[0] && above.Windows[q].Why == "" && !has(v) {
					return 0, 0, 0, false
				}
			}
		}
		cost += float64(st.Waiting[at[1]].Acres) * acre * float64(st.Factor)
		value += float64(st.Waiting[at[1]].Exposure)
		if !sites[st.Place] {
			sites[st.Place] = true
			cost += float64(b.s.SetUp)
		}
		if st.Outlier {
			outliers++
		}
	}
	return cost, value, outliers, true
}

// best is the set of most value for the money; sure is false where another is as good.
func (b *brute) best(q int, money Cost) (cost, value float64, set uint64, sure bool) {
	most := -1
	for s := range uint64(1) << len(b.works) {
		c, v, n, ok := b.weigh(s, q)
		if !ok || c > float64(money)*(1+1e-12) {
			continue
		}
		if !b.s.OutliersFirst {
			n = 0
		}
		switch {
		case n > most || n == most && v > value+1e-6:
			cost, value, set, most, sure = c, v, s, n, true
		case n == most && v > value-1e-6:
			sure = false
		}
	}
	return cost, value, set, sure
}

// quarter plans one quarter and enters it. Follow-up is paid before, and what is chosen now must
// leave its share of every coming year's budget.
func (b *brute) quarter(q int) (followUp, first Cost, value float64, sure bool) {
	followUp = b.due[q]
	money := b.s.Budget - followUp
	for k, share := range b.s.Labour {
		money = min(money, (b.s.Budget-b.due[q+4*(k+1)])/Cost(share))
	}
	cost, value, set, sure := b.best(q, max(0, money))
	for k, share := range b.s.Labour {
		b.due[q+4*(k+1)] += Cost(float64(share) * cost)
	}
	b.done |= set
	return followUp, Cost(cost), value, sure
}

// drawSmall is a programme of at most ten works whose exposures have many digits, so that few sets
// are worth the same.
func drawSmall(t *rapid.T) (Settings, []Stand) {
	s := budget(Cost(rapid.Float64Range(1, 20).Draw(t, "budget")))
	s.Quarters = rapid.IntRange(1, 7).Draw(t, "quarters")
	s.Labour = rapid.SampledFrom([][]geo.Share{nil, {0.5}, {0.9, 0.4}, {0.083, 0.036, 0.03, 0.024}}).Draw(t, "labour")
	s.OutliersFirst = rapid.IntRange(0, 3).Draw(t, "outliers first") == 0
	if rapid.Bool().Draw(t, "costs") {
		s.SetUp, s.PerAcre = Cost(rapid.IntRange(0, 3).Draw(t, "set-up")), CostPerAcre(rapid.Float64Range(0.5, 3).Draw(t, "per acre"))
	}
	var stands []Stand
	for works := rapid.IntRange(1, 10).Draw(t, "works"); works > 0; {
		st := Stand{Order: len(stands) + 1, Factor: rapid.SampledFrom([]drift.Factor{1, 1.5}).Draw(t, "factor"), Place: int32(rapid.IntRange(0, 3).Draw(t, "site"))}
		st.Outlier = rapid.IntRange(0, 4).Draw(t, "outlier") == 0
		for n := min(works, rapid.IntRange(1, 3).Draw(t, "blocks")); n > 0; n, works = n-1, works-1 {
			st.Waiting = append(st.Waiting, Block{Acres: geo.Acres(rapid.Float64Range(0.3, 6).Draw(t, "acres")), Exposure: drift.AmountKm(rapid.Float64Range(0.01, 9).Draw(t, "exposure"))})
		}
		for q := range s.Quarters {
			st.Windows = append(st.Windows, Window{})
			if q < aYear && rapid.IntRange(0, 4).Draw(t, "held") == 0 { // not when follow-up is due
				st.Windows[q].Why = "held"
			}
		}
		stands = append(stands, st)
	}
	for i := range stands {
		for j := range stands { // now and then two reach each other
			if j > i && rapid.IntRange(0, 3).Draw(t, "reaches") == 0 || j < i && rapid.IntRange(0, 9).Draw(t, "reaches back") == 0 {
				stands[i].Reaches = append(stands[i].Reaches, int32(j))
			}
		}
	}
	return s, stands
}

// Plans of several quarters are those of a second program that looks at every set: same money in each
// quarter, for follow-up and for first treatments, and same exposure removed.
func TestPlansByLookingAtEverySet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, stands := drawSmall(t)
		p, b := made(t, s, stands...), newBrute(s, stands)
		for q, got := range p.Quarters {
			followUp, first, value, sure := b.quarter(q)
			if !sure {
				return // two sets are as good: later quarters may differ
			}
			value *= float64(s.Quarters - q) // it stays removed to the last planned quarter
			for what, pair := range map[string][2]float64{"follow-up": {float64(got.FollowUp), float64(followUp)}, "first treatments": {float64(got.First), float64(first)}, "exposure": {float64(got.Exposure), value}} {
				if math.Abs(pair[0]-pair[1]) > 1e-6 {
					t.Errorf("%s, %s: %g, want %g", got.Quarter, what, pair[0], pair[1])
				}
			}
		}
		if n := len(p.Quarters); n != s.Quarters {
			t.Errorf("%d quarters of %d", n, s.Quarters)
		}
	})
}

// Each point of the curve is the best of every set for that money.
func TestCurveByLookingAtEverySet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, stands := drawSmall(t)
		s.OutliersFirst, s.Quarters = false, 1
		p, b := made(t, s, stands...), newBrute(s, stands)
		for i, point := range p.Curve {
			_, value, _, _ := b.best(0, point.Money)
			if math.Abs(float64(point.Exposure)-value) > 1e-6 || float64(point.Bound) < value-1e-6 {
				t.Errorf("%g for %g, at most %g, want %g", point.Exposure, point.Money, point.Bound, value)
			}
			if want := Cost(curveSteps[i]) * p.Quarters[0].Free; point.Money != want {
				t.Errorf("point %d is of %g, want %g", i, point.Money, want)
			}
		}
		all := 0.0
		for _, st := range stands {
			for _, w := range st.Waiting {
				if st.Windows[0].Why == "" {
					all += float64(w.Exposure)
				}
			}
		}
		if math.Abs(float64(p.Quarters[0].All)-all) > 1e-9 {
			t.Errorf("all of it is %g, want %g", p.Quarters[0].All, all)
		}
		if n := len(p.Curve); n > 0 && n < len(curveSteps) && float64(p.Curve[n-1].Exposure) < all-1e-9 {
			t.Errorf("the curve ends at %g of %g", p.Curve[n-1].Exposure, all)
		}
	})
}

// The next addition by looking at each work that was not chosen, with what it needs: the least set
// that holds it and breaks no rule.
func TestNextByLookingAtEverySet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, stands := drawSmall(t)
		s.OutliersFirst, s.Quarters = false, 1
		p, b := made(t, s, stands...), newBrute(s, stands)
		sum := p.Quarters[0]
		_, _, chosen, sure := b.best(0, sum.Free)
		if !sure || p.Next == nil {
			return
		}
		had, before, _, _ := b.weigh(chosen, 0)
		ratio, near, found := -1.0, false, false
		for w, at := range b.works {
			if chosen>>w&1 == 1 || b.stands[at[0]].Windows[0].Why != "" {
				continue
			}
			least := uint64(0)
			for set := range uint64(1) << len(b.works) {
				if _, _, _, ok := b.weigh(set, 0); ok && set&chosen == chosen && set>>w&1 == 1 && (least == 0 || bits.OnesCount64(set) < bits.OnesCount64(least)) {
					least = set
				}
			}
			cost, value, _, _ := b.weigh(least, 0)
			cost, value = cost-had, value-before
			more := cost - float64(sum.Free-sum.First)
			little := more <= 0.5*float64(sum.Free)
			if more > 1e-9 && (little && !near || little == near && value/cost > ratio) {
				ratio, near, found = value/cost, little, true
			}
			if int32(at[0]) == p.Next.Stand && math.Abs(float64(p.Next.Exposure)-value) < 1e-9 {
				if math.Abs(float64(p.Next.More)-more) > 1e-9 || p.Next.With != bits.OnesCount64(least&^chosen)-1 {
					t.Errorf("%+v, want %g more with %d others", *p.Next, more, bits.OnesCount64(least&^chosen)-1)
				}
			}
		}
		got := float64(p.Next.Exposure) / float64(p.Next.More+sum.Free-sum.First)
		if !found || math.Abs(got-ratio) > 1e-9*ratio || (p.Next.More <= 0.5*sum.Free) != near {
			t.Errorf("%+v brings %g for each unit, want %g", *p.Next, got, ratio)
		}
	})
}

// The plan does not depend on the draws, and the counts of draws are those of as many plans of one
// draw each, by looking at every set.
func TestDrawsByLookingAtEverySet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, stands := drawSmall(t)
		s.Quarters = 1
		const draws = 3
		for i := range stands {
			for range draws {
				stands[i].Draws = append(stands[i].Draws, drift.DrawnExposure(rapid.IntRange(1, 1<<20).Draw(t, "draw")))
			}
		}
		plain := made(t, s, stands...)
		p, err := Make(context.Background(), Site{Quarter: survey.Quarter{Year: 2026, Number: 3}, Stands: stands, Draws: draws}, s)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(told(plain), told(p)); diff != "" {
			t.Errorf("with draws (-without +with):\n%s", diff)
		}
		want := make([]int, len(p.Rows))
		for d := range draws {
			drawn := make([]Stand, len(stands))
			for i, st := range stands {
				whole := drift.AmountKm(0)
				for _, w := range st.Waiting {
					whole += w.Exposure
				}
				drawn[i] = st
				drawn[i].Waiting = nil
				for _, w := range st.Waiting {
					w.Exposure *= drift.AmountKm(st.Draws[d]) / whole
					drawn[i].Waiting = append(drawn[i].Waiting, w)
				}
			}
			b := newBrute(s, drawn)
			_, _, set, sure := b.best(0, p.Quarters[0].Free)
			if !sure {
				return
			}
			for r, row := range p.Rows {
				for w, at := range b.works {
					if int32(at[0]) == row.Stand && at[1]+1 == row.Block && set>>w&1 == 1 {
						want[r]++
					}
				}
			}
		}
		for r, row := range p.Rows {
			if row.Draws != want[r] {
				t.Errorf("stand %d block %d is chosen in %d draws, want %d", row.Stand, row.Block, row.Draws, want[r])
			}
		}
	})
}
