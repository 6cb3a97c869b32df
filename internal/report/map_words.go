package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"driftreach/internal/stream"
)

// badge is half the size of the disc around a number, in grid steps. Our choice.
const badge = 8 * perPixel

// drawNumbers writes the numbers of the first stands to treat beside them, with a line to the stand if
// the place beside it is taken.
func (m *mapDrawing) drawNumbers(c *composer) {
	type label struct {
		stand, at dot
		text      string
	}
	var labels []label
	for n, row := range c.chosen {
		at := m.view.at(c.run.Stands[c.run.Steps[row].Stand].Center)
		labels = append(labels, label{at, m.beside(at), strconv.Itoa(n + 1)})
	}
	for _, l := range labels {
		m.segment(float64(l.stand.x), float64(l.stand.y), float64(l.at.x), float64(l.at.y), "lead")
	}
	for _, l := range labels {
		m.raw(`<circle class="badge" cx="`, fmt.Sprint(l.at.x), `" cy="`, fmt.Sprint(l.at.y), `" r="`, fmt.Sprint(int(badge)), "\"/>\n")
		m.text(float64(l.at.x), float64(l.at.y)+3.8*perPixel, "number", l.text)
	}
}

// around16 are sixteen points on a circle, beginning at the right and continuing upward.
var around16 = func() (all [16]place) {
	const half, most, least = 0.7071, 0.9239, 0.3827 // cosines and sines of an eighth, a sixteenth and three sixteenths of a turn
	quarter := [4]place{{1, 0}, {most, -least}, {half, -half}, {least, -most}}
	for i, p := range quarter {
		all[i], all[i+4], all[i+8], all[i+12] = p, place{p.y, -p.x}, place{-p.x, -p.y}, place{-p.y, p.x}
	}
	return all
}()

// beside returns the nearest free place for a badge near a stand.
func (m *mapDrawing) beside(at dot) dot {
	for ring := 1; ring <= 12; ring++ {
		far := float64(badge) * (1 + 0.75*float64(ring))
		for _, p := range around16 {
			d := dot{at.x + int(math.Round(far*p.x)), at.y + int(math.Round(far*p.y))}
			if b := around(d, badge+2, badge+2); m.free(b) {
				m.taken = append(m.taken, b)
				return d
			}
		}
	}
	return at
}

// drawScale draws a scale bar in kilometres and miles and a north arrow in a free corner, or in the
// lower left one if none is free.
func (m *mapDrawing) drawScale() {
	const high = 52 * perPixel
	km := roundLength(float64(m.view.width) / 4 / m.view.scale / 1000)
	wide := int(math.Round(km * 1000 * m.view.scale))
	area := box{0, 0, wide + 70*perPixel, high}
	at := m.corner(area)
	m.taken = append(m.taken, box{at.x, at.y, at.x + area.right, at.y + area.bottom})
	x, y := at.x+10*perPixel, at.y+26*perPixel
	m.raw(`<rect class="plate" x="`, fmt.Sprint(at.x+3*perPixel), `" y="`, fmt.Sprint(at.y+3*perPixel), `" width="`, fmt.Sprint(area.right-6*perPixel), `" height="`, fmt.Sprint(high-6*perPixel), "\"/>\n")
	m.layer("scale", fmt.Sprintf("M%d %dv%dm0 %dh%dm0 %dv%d", x, y-5*perPixel, 10*perPixel, -5*perPixel, wide, -5*perPixel, 5*perPixel))
	m.text(float64(x), float64(y-9*perPixel), "", plainLength(km)+" km")
	mile := roundLength(km * 1000 / metersPerMile)
	m.layer("scale", fmt.Sprintf("M%d %dv%d", x+int(math.Round(mile*metersPerMile*m.view.scale)), y, 5*perPixel))
	m.text(float64(x), float64(y+17*perPixel), "", plainLength(mile)+" mi")
	n := dot{x + wide + 30*perPixel, at.y + 10*perPixel}
	m.layer("north", fmt.Sprintf("M%d %dl%d %dl%d %dl%d %dz", n.x, n.y, 6*perPixel, 20*perPixel, -6*perPixel, -5*perPixel, -6*perPixel, 5*perPixel))
	m.text(float64(n.x), float64(n.y+33*perPixel), "mid strong", "N")
}

// corner returns the corner in which an area covers least.
func (m *mapDrawing) corner(area box) dot {
	right, bottom := m.view.width-area.right, m.view.height-area.bottom
	best, least := dot{}, math.MaxInt
	for _, at := range []dot{{0, bottom}, {right, bottom}, {0, 0}, {right, 0}} {
		hidden := 0
		for _, b := range m.taken {
			if b.meets(box{at.x, at.y, at.x + area.right, at.y + area.bottom}) {
				hidden++
			}
		}
		if hidden < least {
			best, least = at, hidden
		}
	}
	return best
}

// roundLength returns the largest of 1, 2 and 5 times a power of ten up to x.
func roundLength(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, digit := range []float64{5, 2} {
		if digit*power <= x*(1+1e-9) {
			return digit * power
		}
	}
	return power
}

func plainLength(x float64) string { return strconv.FormatFloat(x, 'g', 3, 64) }

// mostNames is the most streams named on a map. Our choice.
const mostNames = 9

// letter is about the width of a letter, in grid steps, at the map's font size. Our choice, rather too
// wide than too narrow.
const letter = 6.2 * perPixel

// drawNames writes the names of the streams with most water, each once at the middle of its longest
// line, if there is room.
func (m *mapDrawing) drawNames(net *stream.Network) {
	if net == nil {
		return
	}
	longest := map[string]int32{}
	order, length := map[string]int{}, map[string]float64{}
	for e := range net.Paths.Len() {
		edge := &net.Net.Edges[e]
		name := net.LineName(edge.Line)
		if name == "" {
			continue
		}
		order[name] = max(order[name], net.Order[e])
		length[name] += float64(edge.Length)
		if best, ok := longest[name]; !ok || edge.Length > net.Net.Edges[best].Length {
			longest[name] = int32(e)
		}
	}
	names := make([]string, 0, len(longest))
	for name := range longest { // sorted below
		names = append(names, name)
	}
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(cmp.Compare(order[b], order[a]), cmp.Compare(length[b], length[a]), cmp.Compare(a, b))
	})
	drawn := 0
	for _, name := range names[:min(len(names), 4*mostNames)] {
		path := net.Paths.At(int(longest[name]))
		if drawn < mostNames && m.drawName(clean(name, 28), m.view.at(path[len(path)/2])) {
			drawn++
		}
	}
}

// drawName writes a name above, below, right or left of a position, if one of these is free.
func (m *mapDrawing) drawName(name string, at dot) bool {
	half := int(letter * float64(len([]rune(name))) / 2)
	for _, d := range []dot{{at.x, at.y - 12*perPixel}, {at.x, at.y + 12*perPixel}, {at.x + half + 8*perPixel, at.y}, {at.x - half - 8*perPixel, at.y}} {
		if b := around(d, half, 8*perPixel); m.free(b) {
			m.taken = append(m.taken, b)
			m.text(float64(d.x), float64(d.y+4*perPixel), "name mid", name)
			return true
		}
	}
	return false
}
