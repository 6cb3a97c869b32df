package plan

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"driftreach/geo"
)

// listDue lists the visits that are already due. The first visit due at a site in a quarter
// includes the site's set-up.
func (p *planner) listDue() {
	type visit struct {
		place int32
		from  int
	}
	paid := map[visit]bool{}
	for i := range p.site.Stands {
		st := &p.site.Stands[i]
		for _, d := range st.Due {
			t := task{stand: int32(i), day: d.Day, year: d.Year, acres: d.Acres, base: p.perAcre(st).of(d.Acres), at: d.At, grows: d.Grows, why: d.Why}
			for t.from < p.horizon() && p.end(t.from).Before(d.Day) {
				t.from++
			}
			if at := (visit{st.Place, t.from}); !paid[at] {
				paid[at] = true
				t.base += p.s.SetUp
			}
			p.tasks = append(p.tasks, t)
		}
	}
}

// horizon is how many quarters ahead follow-up is counted.
func (p *planner) horizon() int { return p.s.Quarters + aYear*(len(p.s.Labour)+1) }

// end is the last day of a planned quarter; quarter 0 is the first planned.
func (p *planner) end(q int) time.Time {
	return p.quarters[0].Begin().AddDate(0, 3*(q+1), -1)
}

// labour is the cost of a year's follow-up as a share of the first year's.
func (p *planner) labour(year int) geo.Share {
	if year < 1 || year > len(p.s.Labour) {
		return 0
	}
	return p.s.Labour[year-1]
}

// followUp plans the follow-up due by the end of a quarter, first due first, as far as the money
// goes. The rest becomes due in the next quarter.
func (p *planner) followUp(q int, money Cost, sum *Quarter) {
	slices.SortStableFunc(p.tasks, func(a, b task) int {
		return cmp.Or(cmp.Compare(a.from, b.from), geo.CompareBools(a.day.IsZero(), b.day.IsZero()), a.day.Compare(b.day), cmp.Compare(a.stand, b.stand), cmp.Compare(a.year, b.year))
	})
	for i := range p.tasks {
		t := &p.tasks[i]
		if t.from > q {
			continue
		}
		window := p.site.Stands[t.stand].window(p.quarters[q], q, never)
		cost := t.base.share(p.labour(t.year))
		if window.Why != "" || sum.FollowUp+cost > money*(1+rounding) {
			t.from = q + 1
			sum.PutOff++
			continue
		}
		sum.FollowUp += cost
		p.out.Rows = append(p.out.Rows, Row{
			Stand: t.stand, Kind: FollowUp, Quarter: p.quarters[q], Block: 1, Blocks: 1, At: t.at, From: window.From, To: window.To,
			Site: p.site.Stands[t.stand].Place + 1, Acres: t.acres, Cost: cost, Exposure: t.grows.Times(p.worth(q)), Due: t.day, Year: t.year, Draws: -1, Why: t.why,
		})
		t.from, t.year, t.day, t.grows = q+aYear, t.year+1, time.Time{}, 0
		t.why = followed(t.year)
	}
	p.tasks = slices.DeleteFunc(p.tasks, func(t task) bool { return t.year > len(p.s.Labour) && t.day.IsZero() })
}

// followed gives the reason for a visit in a year after treatment.
func followed(year int) string {
	return fmt.Sprintf("year %d after its first treatment: look again, treat what grows", year)
}

// free returns what a quarter may spend on first treatments: at most money, and little enough that
// the budget of every coming year can pay for their follow-up besides the follow-up already due
// then. Follow-up costs a fixed share of the first treatment, so each year gives one upper limit.
func (p *planner) free(q int, money Cost) Cost {
	due := make([]Cost, q+aYear*len(p.s.Labour)+1)
	for i := range p.tasks {
		t := &p.tasks[i]
		for at, year := max(t.from, q+1), t.year; at < len(due) && year <= len(p.s.Labour); at, year = at+aYear, year+1 {
			due[at] += t.base.share(p.labour(year))
		}
	}
	for k, share := range p.s.Labour {
		if share > 0 {
			money = min(money, (p.s.Budget-due[q+aYear*(k+1)])/Cost(share))
		}
	}
	return max(0, money)
}
