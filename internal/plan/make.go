package plan

import (
	"context"
	"math"

	"driftreach/internal/survey"
)

// aYear is how many quarters after the first treatment its follow-up comes, and how many
// lie between that of one year and of the next.
const aYear = 4

// Make plans the coming quarters one after the other. The answer depends on the stands,
// not on how they came to be listed: they are in treatment order. Cost is that of the best
// set of each quarter (geo/knapsack), of some more for the curve, and of one for each
// draw where there are no more than mostRepeated pieces of work. The error is ctx's.
func Make(ctx context.Context, site Site, s Settings) (*Plan, error) {
	p := planner{ctx: ctx, site: &site, s: s, out: &Plan{Unit: s.UnitName(), Budget: s.Budget}}
	quarter := site.Quarter
	for range s.Quarters {
		quarter = quarter.Next()
		p.quarters = append(p.quarters, quarter)
	}
	p.list()
	p.listDue()
	for q := range p.quarters {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		p.plan(q)
	}
	p.out.RowOf = make([]int32, len(site.Stands))
	for i := range p.out.RowOf {
		p.out.RowOf[i] = -1
	}
	for k := len(p.out.Rows) - 1; k >= 0; k-- {
		p.out.RowOf[p.out.Rows[k].Stand] = int32(k)
	}
	return p.out, ctx.Err()
}

// planner is the state that one quarter's planning passes to the next.
type planner struct {
	ctx      context.Context
	site     *Site
	s        Settings
	quarters []survey.Quarter
	works    []work
	first    []int32 // by stand: its first work; one more at the end
	tasks    []task  // follow-up that is yet to be done
	out      *Plan
}

// work is a stand or a block of one that waits for its first treatment.
type work struct {
	stand, block int32
	cost         float64 // without the set-up of its site
	done         bool
}

// list lists what waits, by stand and block.
func (p *planner) list() {
	p.first = make([]int32, 0, len(p.site.Stands)+1)
	for i := range p.site.Stands {
		p.first = append(p.first, int32(len(p.works)))
		st := &p.site.Stands[i]
		for k, b := range st.Waiting {
			p.works = append(p.works, work{stand: int32(i), block: int32(k), cost: b.Acres * p.perAcre(st)})
		}
	}
	p.first = append(p.first, int32(len(p.works)))
}

// perAcre is what an acre of a stand costs.
func (p *planner) perAcre(s *Stand) float64 { return p.s.perAcre() * s.Factor }

// block returns the block of a work.
func (p *planner) block(w int32) *Block {
	return &p.site.Stands[p.works[w].stand].Waiting[p.works[w].block]
}

// of returns the works of a stand.
func (p *planner) of(stand int32) (from, to int32) { return p.first[stand], p.first[stand+1] }

// plan plans one quarter: follow-up and first treatments, in the order of the setting.
func (p *planner) plan(q int) {
	sum := Quarter{Quarter: p.quarters[q]}
	if q == 0 {
		p.hold()
	}
	if p.s.FollowUpFirst {
		p.followUp(q, p.s.Budget, &sum)
		sum.Free = p.free(q, p.s.Budget-sum.FollowUp)
		p.treat(q, &sum)
	} else {
		sum.Free = p.free(q, p.s.Budget)
		chosen := len(p.out.Rows)
		p.treat(q, &sum)
		first := append([]Row(nil), p.out.Rows[chosen:]...)
		p.out.Rows = p.out.Rows[:chosen]
		p.followUp(q, p.s.Budget-sum.First, &sum)
		p.out.Rows = append(p.out.Rows, first...)
	}
	p.number(q)
	p.out.Quarters = append(p.out.Quarters, sum)
}

// number gives the rows of a quarter their places and running costs.
func (p *planner) number(q int) {
	place, running := 0, 0.0
	for i := range p.out.Rows {
		r := &p.out.Rows[i]
		if r.Quarter != p.quarters[q] {
			continue
		}
		place++
		running += r.Cost
		r.Place, r.Running = place, running
	}
}

// worth is how many times the exposure of a quarter is taken away by treatment in a
// planned quarter, until the last of them: less what grows back, more by the growth that
// does not happen.
func (p *planner) worth(q int) float64 {
	sum := 0.0
	for t := q; t < p.s.Quarters; t++ {
		sum += p.s.Efficacy * math.Pow(1-p.s.Regrowth, float64(t-q)/aYear) * math.Pow(1+p.s.Growth, float64(t)/aYear)
	}
	return sum
}
