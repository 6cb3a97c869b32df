package plan

import (
	"context"
	"math"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/survey"
)

// aYear is the number of quarters from a first treatment to its first follow-up, and from one
// follow-up to the next.
const aYear = 4

// planner is the state passed from one quarter's planning to the next.
type planner struct {
	ctx      context.Context
	site     *Site
	s        Settings
	quarters []survey.Quarter
	works    []work
	first    []int32 // by stand: its first piece of work; one more entry at the end
	tasks    []task  // follow-up still to be done
	out      *Plan
}

// work is a stand, or a block of one, that waits for its first treatment.
type work struct {
	stand, block int32
	cost         Cost // without the set-up of its site
	done         bool
}

// task is one year's follow-up of a treated stand, in a planned quarter or later.
type task struct {
	stand int32
	from  int       // planned quarter in which it becomes due
	day   time.Time // due day; zero if it follows from this plan
	year  int
	acres geo.Acres
	base  Cost           // cost of the first treatment
	grows drift.AmountKm // exposure of regrowth, per quarter
	at    orb.Point
	why   string
}

// list lists the waiting work, by stand and block.
func (p *planner) list() {
	p.first = make([]int32, 0, len(p.site.Stands)+1)
	for i := range p.site.Stands {
		p.first = append(p.first, int32(len(p.works)))
		st := &p.site.Stands[i]
		for k, b := range st.Waiting {
			p.works = append(p.works, work{stand: int32(i), block: int32(k), cost: p.perAcre(st).of(b.Acres)})
		}
	}
	p.first = append(p.first, int32(len(p.works)))
}

// perAcre is the cost of an acre of a stand.
func (p *planner) perAcre(s *Stand) CostPerAcre { return p.s.perAcre() * CostPerAcre(s.Factor) }

// block returns the block of a work.
func (p *planner) block(w int32) *Block {
	return &p.site.Stands[p.works[w].stand].Waiting[p.works[w].block]
}

// of returns the works of a stand.
func (p *planner) of(stand int32) (from, to int32) { return p.first[stand], p.first[stand+1] }

// worth is the factor from a quarter's exposure to the exposure removed by treating in planned
// quarter q, summed to the last planned quarter. Regrowth reduces it; growth that is prevented
// increases it.
func (p *planner) worth(q int) drift.Factor {
	sum := 0.0
	for t := q; t < p.s.Quarters; t++ {
		sum += float64(p.s.Efficacy) * math.Pow(float64(1-p.s.Regrowth), float64(t-q)/aYear) * math.Pow(float64(1+p.s.Growth), float64(t)/aYear)
	}
	return drift.Factor(sum)
}
