package plan

import (
	"cmp"
	"slices"

	"driftreach/internal/drift"
)

// treat plans the first treatments of a quarter.
func (p *planner) treat(q int, sum *Quarter) {
	worth := p.worth(q)
	ask := p.ask(q, func(w int32) drift.AmountKm { return p.block(w).Exposure.Times(worth) })
	for i := range ask.items {
		sum.All += drift.AmountKm(ask.items[i].Value)
	}
	choice := p.best(&ask, sum.Free)
	sum.Bound, sum.Exact = drift.AmountKm(choice.Bound), choice.Exact
	rows := p.rows(q, &ask, choice.In, worth)
	for i := range rows {
		sum.First += rows[i].Cost
		sum.Exposure += rows[i].Exposure
	}
	if q == 0 {
		p.repeat(&ask, sum.Free, rows)
		p.curve(&ask, choice, sum)
	}
	p.out.Rows = append(p.out.Rows, rows...)
	p.enter(q, rows)
}

// rows returns the rows for the chosen work, upstream first. The first row of a site includes the
// site's set-up.
func (p *planner) rows(q int, ask *question, in []bool, worth drift.Factor) []Row {
	var chosen []int32
	for it, w := range ask.works {
		if in[it] && w >= 0 {
			chosen = append(chosen, w)
		}
	}
	slices.SortFunc(chosen, func(a, b int32) int {
		x, y := &p.works[a], &p.works[b]
		return cmp.Or(cmp.Compare(p.site.Stands[x.stand].Order, p.site.Stands[y.stand].Order), cmp.Compare(x.stand, y.stand), cmp.Compare(x.block, y.block))
	})
	paid := map[int32]bool{}
	rows := make([]Row, len(chosen))
	for k, w := range chosen {
		st, b := &p.site.Stands[p.works[w].stand], p.block(w)
		window := st.window(p.quarters[q], q, p.s.LookFirst)
		rows[k] = Row{
			Stand: p.works[w].stand, Kind: First, Quarter: p.quarters[q], Block: int(p.works[w].block) + 1, Blocks: len(st.Waiting), At: b.At,
			From: window.From, To: window.To, Site: st.Place + 1, Acres: b.Acres, Cost: p.works[w].cost, Exposure: b.Exposure.Times(worth), Draws: -1,
		}
		if p.s.SetUp > 0 && !paid[st.Place] {
			paid[st.Place] = true
			rows[k].Cost += p.s.SetUp
		}
	}
	p.say(rows)
	return rows
}

// enter marks the planned work as done and lists its follow-up.
func (p *planner) enter(q int, rows []Row) {
	for i := range rows {
		r := &rows[i]
		from, _ := p.of(r.Stand)
		p.works[from+int32(r.Block)-1].done = true
		if len(p.s.Labour) > 0 {
			p.tasks = append(p.tasks, task{stand: r.Stand, from: q + aYear, year: 1, acres: r.Acres, base: r.Cost, at: r.At, why: followed(1)})
		}
	}
}
