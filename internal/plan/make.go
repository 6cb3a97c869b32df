package plan

import "context"

// Make plans the coming quarters, one after the other. The stands must be in treatment order, so
// the result does not depend on how they were listed. It computes the best set of each quarter
// (geo/knapsack), several more for the curve, and one for each draw if there are at most
// mostRepeated pieces of work. The error is ctx's.
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

// plan plans one quarter: follow-up and first treatments, in the order the settings give.
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

// number sets the place and running cost of each row of a quarter.
func (p *planner) number(q int) {
	place, running := 0, Cost(0)
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
