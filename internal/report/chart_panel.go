package report

import (
	"slices"

	"driftreach/internal/trend"
)

// draw draws the panel.
func (p *panel) draw(c *canvas, h *trend.History) {
	most := 0.0
	for _, m := range p.measures {
		for k := range h.Quarters {
			if v, ok := p.value(m, k); ok {
				most = max(most, v)
			}
			if _, high, ok := p.between(m, k); ok {
				most = max(most, high)
			}
			if v, ok := p.mapped(m, k); ok && m == trend.Infested { // the hatched part
				most = max(most, v)
			}
		}
	}
	s := scaleTo(most)
	c.text(p.x-40, p.y-14, "h2", p.title)
	p.drawGaps(c, h)
	p.drawAxes(c, h, s)
	if slices.Contains(p.measures, trend.Infested) {
		p.drawCarried(c, s, len(h.Quarters))
	}
	p.drawBreaks(c, h)
	p.drawRanges(c, s, len(h.Quarters))
	for i, m := range p.measures {
		p.drawLine(c, m, s, h)
		p.drawSlope(c, p.trends[i], s, h)
	}
	p.drawEnds(c, s, len(h.Quarters))
}

// drawRanges draws P10 to P90 of every value as vertical lines behind its mark: side by side if there
// is room, otherwise only for the first measure.
func (p *panel) drawRanges(c *canvas, s scale, n int) {
	measures, step := p.measures, 5.0
	if p.w/float64(n) < step*float64(len(measures)+1) {
		measures = measures[:1]
	}
	for i, m := range measures {
		for k := range n {
			if low, high, ok := p.between(m, k); ok && p.up(low, s)-p.up(high, s) >= leastRange {
				x := p.across(k, n) + step*(float64(i)-float64(len(measures)-1)/2)
				c.segment(x, p.up(low, s), x, p.up(high, s), "range "+inks[m].class)
			}
		}
	}
}

// leastRange is the height below which a range is not drawn, because the mark hides it. Our choice.
const leastRange = 3

// drawGaps shades consecutive quarters without a value, and says why if there is room.
func (p *panel) drawGaps(c *canvas, h *trend.History) {
	n := len(h.Quarters)
	wide := p.w / float64(n)
	open := func(k int) bool { _, there := p.value(p.measures[0], k); return !there }
	for begin := 0; begin < n; begin++ {
		if !open(begin) {
			continue
		}
		end := begin + 1
		for end < n && open(end) && h.Known[end] == h.Known[begin] {
			end++
		}
		left, width := p.x+float64(begin)*wide, float64(end-begin)*wide
		c.rect(left, p.y, width, p.h, "gap")
		word := "no look"
		if !h.Known[begin] {
			word = "no batch"
		}
		// The words need about 56 units at this font size.
		if width >= 56 {
			c.text(left+width/2, p.y+p.h-7, "soft mid", word)
		}
		begin = end - 1
	}
}

// drawBreaks marks the quarters from which reach cannot be compared with earlier quarters.
func (p *panel) drawBreaks(c *canvas, h *trend.History) {
	if !slices.Contains(p.measures, trend.ReachAtRisk) {
		return
	}
	for k, broken := range h.Breaks {
		if broken {
			x := p.x + p.w*float64(k)/float64(len(h.Quarters))
			c.segment(x, p.y, x, p.y+p.h, "grid")
			c.text(x, p.y-3, "soft mid", "made otherwise")
		}
	}
}

func (p *panel) drawAxes(c *canvas, h *trend.History, s scale) {
	for i, v := range s.ticks() {
		y := p.up(v, s)
		class := "grid"
		if i == 0 {
			class = "axis"
		}
		c.segment(p.x, y, p.x+p.w, y, class)
		c.text(p.x-6, y+4, "soft end", s.label(v))
	}
	for _, k := range labelled(len(h.Quarters), p.w) {
		x := p.across(k, len(h.Quarters))
		c.segment(x, p.y+p.h, x, p.y+p.h+4, "axis")
		c.text(x, p.y+p.h+18, "soft mid", h.Quarters[k].String())
	}
}

// labelled returns which of n quarters get a label in the given width: all; or one a year, or one every
// few years, always including the last; or only the first and the last, if no more fit.
func labelled(n int, width float64) []int {
	// A label such as 2026Q3 needs about 52 units, including space around it.
	room := max(1, int(width/52))
	if n > room && room == 2 {
		return []int{0, n - 1}
	}
	every := 1
	if n > room {
		for every = 4; (n+every-1)/every > room; every += 4 {
		}
	}
	var at []int
	for k := n - 1; k >= 0; k -= every {
		at = append(at, k)
	}
	slices.Reverse(at)
	return at
}

// drawLine draws a measure. The line is interrupted at quarters without a value, and for reach also
// where it cannot be compared with earlier quarters.
func (p *panel) drawLine(c *canvas, m trend.Measure, s scale, h *trend.History) {
	k, n := inks[m], len(h.Quarters)
	var run []place
	flush := func() {
		if len(run) > 1 {
			c.path(run, "line "+k.class)
		}
		radius := p.markRadius(n)
		for _, at := range run {
			if radius >= leastMark || len(run) == 1 {
				c.mark(at, k, max(radius, leastMark))
			}
		}
		run = run[:0]
	}
	for i := range n {
		v, ok := p.value(m, i)
		if !ok || m == trend.ReachAtRisk && h.Breaks[i] {
			flush()
		}
		if !ok {
			continue
		}
		run = append(run, place{p.across(i, n), p.up(v, s)})
	}
	flush()
}

// leastMark is the radius below which marks are not drawn, because they would hide the line. Our
// choice, like the radii below.
const leastMark = 1.6

// drawSlope draws the slope of a measure that rises or falls, as far as it is within the plot.
func (p *panel) drawSlope(c *canvas, t trend.Trend, s scale, h *trend.History) {
	if t.Direction != trend.Rising && t.Direction != trend.Falling {
		return
	}
	var run []place
	for k, q := range h.Quarters {
		if q.Begin().Before(t.Since.Begin()) { // zero if all quarters count
			continue
		}
		v := t.Intercept + t.Slope*trend.Years(q)
		if v >= 0 && v <= s.Top {
			run = append(run, place{p.across(k, len(h.Quarters)), p.up(v, s)})
		}
	}
	if len(run) > 1 {
		c.path([]place{run[0], run[len(run)-1]}, "sen "+inks[t.Measure].class)
	}
}
