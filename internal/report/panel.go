package report

import "driftreach/internal/trend"

// panel is one chart: some measures of one section over the quarters.
type panel struct {
	title    string
	x, y     float64 // top left corner of the plot
	w, h     float64
	section  *trend.Section
	measures []trend.Measure
	trends   []trend.Trend // of the measures
	small    bool          // one of many: fewer texts
}

// value returns a measure at quarter k; ok is false if there is none. For acres it is also false if
// nobody surveyed anything: all acres are then carried.
func (p *panel) value(m trend.Measure, k int) (v float64, ok bool) {
	if m.Chained() && p.section.Ages[k] == nil {
		return 0, false
	}
	return p.mapped(m, k)
}

// mapped returns a measure at quarter k as it was mapped, including carried acres.
func (p *panel) mapped(m trend.Measure, k int) (v float64, ok bool) {
	f := p.section.Figures[k]
	if f == nil || f[m] == trend.Blank {
		return 0, false
	}
	return float64(f[m]) / trend.PerUnit, true
}

// across returns the x of quarter k of n: the middle of its part of the width.
func (p *panel) across(k, n int) float64 { return p.x + p.w*(float64(k)+0.5)/float64(n) }

func (p *panel) up(v float64, s scale) float64 { return p.y + p.h*(1-v/s.Top) }

// between returns P10 and P90 of a measure at quarter k; ok is false if it has none.
func (p *panel) between(m trend.Measure, k int) (low, high float64, ok bool) {
	if _, there := p.value(m, k); !there || !m.HasRange() {
		return 0, 0, false
	}
	return p.section.Figures[k].Band(m)
}

// markRadius returns the radius of the marks on a line over n quarters.
func (p *panel) markRadius(n int) float64 {
	radius := 4.0
	if p.small {
		radius = 3
	}
	return min(radius, 0.33*p.w/float64(n))
}
