package report

import (
	"math"

	"driftreach/internal/trend"
)

// brick is the style of one part of change: filled, pale or hollow, so that colour is never the only
// difference.
type brick struct {
	measure trend.Measure
	class   string
	label   string
	sign    float64 // sign of the part in the change
}

var bricks = []brick{
	{trend.Observed, "pale infested", "observed", 1},
	{trend.New, "full gross", "new", 1},
	{trend.FoundAgain, "pale gross", "found again", 1},
	{trend.FirstLookedAt, "hollow gross", "first looked at", 1},
	{trend.Restated, "hollow infested", "restated", 1},
	{trend.NotDetected, "hollow canopy", "not detected", -1},
}

// changes is the chart of how infested acres changed from each batch to the next: bars up for
// increases, down for decreases.
type changes struct {
	x, y, w, h float64
	section    *trend.Section
}

// reach returns the greatest height and depth of the bars in any quarter.
func (g *changes) reach() (up, down float64) {
	for _, f := range g.section.Figures {
		above, below := 0.0, 0.0
		for _, b := range bricks {
			if v, ok := b.value(f); ok {
				above, below = above+max(0, v), below+max(0, -v)
			}
		}
		up, down = max(up, above), max(down, below)
	}
	return up, down
}

func (b brick) value(f *trend.Figures) (v float64, ok bool) {
	if f == nil {
		return 0, false
	}
	v, ok = f.Part(b.measure)
	return b.sign * v, ok
}

// draw draws the chart.
func (g *changes) draw(c *canvas, h *trend.History) {
	c.text(g.x-40, g.y-14, "h2", "Change of infested acres since the batch before")
	up, down := g.reach()
	s := scaleTo(max(up, down))
	above, below := math.Ceil(up/s.Step), math.Ceil(down/s.Step)
	if above+below == 0 {
		above = 1
	}
	unit := g.h / (s.Step * (above + below)) // picture units for one acre
	zero := g.y + s.Step*above*unit
	for k := 0 - below; k <= above; k++ { // not -below, which is -0 where nothing was lost
		y := zero - k*s.Step*unit
		class := "grid"
		if k == 0 {
			class = "axis"
		}
		c.segment(g.x, y, g.x+g.w, y, class)
		c.text(g.x-6, y+4, "soft end", signed(k*s.Step, s))
	}
	n := len(h.Quarters)
	slot := g.w / float64(n)
	for k, f := range g.section.Figures {
		g.drawQuarter(c, f, g.x+slot*(float64(k)+0.5), min(28, 0.6*slot), zero, unit)
	}
	for _, k := range labelled(n, g.w) {
		c.text(g.x+slot*(float64(k)+0.5), g.y+g.h+18, "soft mid", h.Quarters[k].String())
	}
	g.drawNames(c, h)
}

// signed formats the value of a tick with its sign.
func signed(v float64, s scale) string {
	switch {
	case v > 0:
		return "+" + s.label(v)
	case v < 0:
		return "−" + s.label(-v)
	}
	return s.label(v)
}

// drawQuarter stacks the parts of one quarter up and down from zero.
func (g *changes) drawQuarter(c *canvas, f *trend.Figures, middle, wide, zero, unit float64) {
	above, below := zero, zero
	for _, b := range bricks {
		v, ok := b.value(f)
		high := math.Abs(v) * unit
		switch {
		case !ok || v == 0:
			continue
		case v > 0:
			above -= high
			c.rect(middle-wide/2, above, wide, high, b.class)
		default:
			c.rect(middle-wide/2, below, wide, high, b.class)
			below += high
		}
	}
}

// drawNames writes the names of the parts, and the sum of each.
func (g *changes) drawNames(c *canvas, h *trend.History) {
	x, y := g.x+g.w+12, g.y+8
	for _, b := range bricks {
		total, _ := h.Sum(0, b.measure)
		c.rect(x, y-6, 22, 12, b.class)
		c.text(x+28, y+4.5, "", b.label+" "+signedAcres(int64(b.sign)*total))
		y += 20
	}
	cleared, _ := h.Sum(0, trend.Cleared)
	c.text(x+28, y+2, "soft", "of it cleared "+eye(cleared))
	c.text(x, y+24, "soft", "in all; where nobody")
	c.text(x, y+40, "soft", "went is no change")
}

func signedAcres(v int64) string {
	if v > 0 {
		return "+" + eye(v)
	}
	return eye(v)
}
