package report

import (
	"cmp"
	"slices"

	"driftreach/internal/result"
	"driftreach/internal/trend"
)

// end is the name of a line, written beside its last value.
type end struct {
	measure trend.Measure
	from    place
	y       float64 // of the text
	text    string
}

// between is the smallest distance between names. Our choice: the height of a line of text.
const between = 17

// last formats the last value of a line.
func (p *panel) last(m trend.Measure, v float64) string {
	if m.Unit() == string(result.Acres) {
		return acresOf(v)
	}
	return grouped(v, 1)
}

// drawEnds writes each line's name and last value at its right end. If texts would overlap, they are
// moved apart.
func (p *panel) drawEnds(c *canvas, s scale, n int) {
	var ends []end
	for _, m := range p.measures {
		for k := n - 1; k >= 0; k-- {
			if v, ok := p.value(m, k); ok {
				at := place{p.across(k, n), p.up(v, s)}
				ends = append(ends, end{m, at, at.y, m.Label() + " " + p.last(m, v)})
				break
			}
		}
	}
	if slices.Contains(p.measures, trend.Infested) {
		if e, any := p.carriedEnd(s, n); any {
			ends = append(ends, e)
		}
	}
	spread(ends, p.y, p.y+p.h)
	x := p.x + p.w + 12
	for _, e := range ends {
		c.segment(e.from.x+7, e.from.y, x-2, e.y, "lead")
		if e.measure == trend.Carried {
			c.hatch([]hatched{{x, e.y - 5, e.y + 5}, {x + 22, e.y - 5, e.y + 5}})
			c.text(x+28, e.y+4.5, "", e.text)
			continue
		}
		k := inks[e.measure]
		c.path([]place{{x, e.y}, {x + 22, e.y}}, "line "+k.class)
		c.mark(place{x + 11, e.y}, k, 3.4)
		c.text(x+28, e.y+4.5, "", e.text)
	}
}

// spread moves names apart between top and bottom and keeps their order.
func spread(ends []end, top, bottom float64) {
	slices.SortStableFunc(ends, func(a, b end) int { return cmp.Compare(a.y, b.y) })
	for i := range ends {
		if i > 0 {
			ends[i].y = max(ends[i].y, ends[i-1].y+between)
		}
	}
	limit := max(bottom, top+between*float64(len(ends)-1))
	for i := len(ends) - 1; i >= 0; i-- {
		ends[i].y = min(ends[i].y, limit)
		limit = ends[i].y - between
	}
}

// carriedEnd is the name of the hatched area, beside the last quarter with a value; false if nothing is
// carried there.
func (p *panel) carriedEnd(s scale, n int) (end, bool) {
	for k := n - 1; k >= 0; k-- {
		if b, ok := p.bandAt(k, n, s); ok {
			carried, _ := p.section.Figures[k].Part(trend.Carried)
			at := (b.top + b.bottom) / 2
			return end{measure: trend.Carried, from: place{b.x, at}, y: at, text: "carried " + p.last(trend.Carried, carried)}, carried > 0
		}
	}
	return end{}, false
}
