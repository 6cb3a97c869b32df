package report

import (
	"math"

	"driftreach/internal/trend"
)

// hatchStep is the distance between the lines of a hatch. Our choice.
const hatchStep = 6.0

// hatched is the carried part of infested acres at one quarter: the acres that nobody surveyed, between
// the line of infested acres and what was seen.
type hatched struct{ x, top, bottom float64 }

// bandAt returns the band at quarter k; false if the quarter has no value.
func (p *panel) bandAt(k, n int, s scale) (hatched, bool) {
	f := p.section.Figures[k]
	if f == nil {
		return hatched{}, false
	}
	carried, _ := f.Part(trend.Carried)
	infested, there := p.mapped(trend.Infested, k)
	if !there {
		return hatched{}, false
	}
	return hatched{p.across(k, n), p.up(infested, s), p.up(infested-carried, s)}, true
}

// drawCarried hatches the carried part below the line of infested acres, one quarter wide, so that
// acres that were only taken over from earlier quarters are visible as such.
func (p *panel) drawCarried(c *canvas, s scale, n int) {
	half := p.w / float64(n) / 2
	for k := range n {
		b, ok := p.bandAt(k, n, s)
		if !ok || b.top == b.bottom {
			continue
		}
		bands := []hatched{p.towards(b, k-1, n, s, -half), b, p.towards(b, k+1, n, s, half)}
		if k == 0 {
			bands = bands[1:]
		}
		if k+1 == n {
			bands = bands[:len(bands)-1]
		}
		if len(bands) == 1 {
			bands = []hatched{{b.x - half/2, b.top, b.bottom}, {b.x + half/2, b.top, b.bottom}}
		}
		c.hatch(bands)
	}
}

// towards returns the band half-way to quarter k, with the height of b and its top on the line. If that
// quarter has no value, it returns b moved there.
func (p *panel) towards(b hatched, k, n int, s scale, step float64) hatched {
	top := b.top
	if k >= 0 && k < n {
		if other, ok := p.bandAt(k, n, s); ok {
			top = (b.top + other.top) / 2
		}
	}
	return hatched{b.x + step, top, min(top+b.bottom-b.top, p.y+p.h)}
}

// hatch fills the area between the tops and the bottoms of bands.
func (c *canvas) hatch(bands []hatched) {
	var outline []place
	for _, b := range bands {
		outline = append(outline, place{b.x, b.top})
	}
	for i := len(bands) - 1; i >= 0; i-- {
		outline = append(outline, place{bands[i].x, bands[i].bottom})
	}
	c.path(outline, "carried infested")
	c.raw(`<path d="`)
	for i := 0; i+1 < len(bands); i++ {
		a, b := bands[i], bands[i+1]
		for x := hatchStep * math.Ceil(a.x/hatchStep); x < b.x; x += hatchStep {
			t := (x - a.x) / (b.x - a.x)
			c.raw("M", length(x), " ", length(a.top+t*(b.top-a.top)), "V", length(a.bottom+t*(b.bottom-a.bottom)))
		}
	}
	c.raw(`" class="hatch infested"/>`, "\n")
}
