package report

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/internal/drift"
	"driftreach/internal/field"
	"driftreach/internal/result"
	"driftreach/internal/stream"
)

// Widths of the map in pixels: on a screen or on paper, and on a telephone. Our choice.
const (
	widePixels   = 760
	narrowPixels = 340
)

// maps draws the map for wide and narrow screens, with its legend and notes on what it leaves out.
func (c *composer) maps() (figures []Figure, legend []Legend, notes []string) {
	for _, size := range []struct {
		class  string
		pixels int
	}{{"wide", widePixels}, {"narrow", narrowPixels}} {
		m := &mapDrawing{view: newView(c.run, size.pixels)}
		left := m.draw(c, size.class)
		figures = append(figures, Figure{size.class, tag(m.b)})
		if size.class == "wide" {
			notes = left.notes()
		}
	}
	return figures, c.legend(), notes
}

// leftOut counts what a map does not show.
type leftOut struct {
	order  int // streams below this order are not shown; 0 if all are
	stands int // that share a mark with another
}

func (l leftOut) notes() []string {
	var out []string
	if l.order > 1 {
		out = append(out, fmt.Sprintf("Streams below order %d are left out where they are not at risk.", l.order))
	}
	if l.stands > 0 {
		have := " have"
		if l.stands == 1 {
			have = " has"
		}
		out = append(out, plural(l.stands, "stand")+have+" no mark here, because a larger one is too near or the map is too small; map.kmz has them all.")
	}
	return out
}

// draw draws streams, reaches, stands, barriers and texts, in this order.
func (m *mapDrawing) draw(c *composer, class string) (left leftOut) {
	run := c.run
	m.raw(`<svg class="map `, class, `" viewBox="0 0 `, fmt.Sprint(m.view.width), " ", fmt.Sprint(m.view.height), `" role="img" aria-labelledby="map-title-`, class, " map-text-", class, "\">\n",
		`<title id="map-title-`, class, `">Map of streams, stands and stream at risk, `, escape(run.Quarter.String()), "</title>\n",
		`<desc id="map-text-`, class, `">`, escape(c.mapWords()), "</desc>\n")
	left.order = m.drawStreams(run)
	m.drawReaches(run)
	m.drawBarriers(run.Network)
	left.stands = m.drawStands(run)
	m.drawNumbers(c)
	m.drawScale()
	m.drawNames(run.Network)
	m.raw("</svg>")
	return left
}

// mapWords describes the map for readers who cannot see it.
func (c *composer) mapWords() string {
	s := c.summary
	text := fmt.Sprintf("%s stands along the streams, %s of them in the aquatic zone; %s km of stream at risk below them, in three classes.",
		s.number(total, field.Stands).Shown, s.number(total, field.AquaticZoneStands).Shown, s.number(total, field.ReachAtRiskKm).Shown)
	if len(c.chosen) > 0 {
		text += " The first stands to treat carry the numbers of their rows in the table below."
	}
	return text + " North is up. The tables hold everything the map shows."
}

// mostInk is the greatest density of stream lines on a map, in grid steps of line for each square step
// of area. Our choice: lines about a dozen pixels apart.
const mostInk = 0.04

// drawStreams draws the streams of the highest orders, as many orders as fit on the map, and returns
// the lowest order drawn.
func (m *mapDrawing) drawStreams(run *result.Run) int {
	net := run.Network
	if net == nil {
		return 0
	}
	long := map[int]float64{}
	top := 1
	for e, path := range net.Paths.All() {
		if len(path) > 0 && m.view.inside(m.view.at(path[0]), m.view.width/10) {
			long[net.Order[e]] += float64(net.Net.Edges[e].Length) * m.view.scale
			top = max(top, net.Order[e])
		}
	}
	least := leastOrder(long, top, mostInk*float64(m.view.width)*float64(m.view.height))
	grades := [3]*tracer{newTracer(&m.view), newTracer(&m.view), newTracer(&m.view)}
	for e := range net.Order {
		if net.Order[e] >= least {
			grades[gradeOf(net.Order[e])].add(net.Paths.At(e))
		}
	}
	for i, t := range grades {
		m.layer(fmt.Sprintf("water grade%d", i), t.path())
	}
	return least
}

// leastOrder returns the lowest order for which the streams of that order and above are together no
// longer than most; long is the length by order. The highest order is always drawn. It visits only
// orders that occur.
func leastOrder(long map[int]float64, top int, most float64) int {
	ink := long[top]
	for _, order := range slices.Backward(slices.Sorted(maps.Keys(long))) {
		if order >= top {
			continue
		}
		if ink += long[order]; ink > most {
			return order + 1
		}
	}
	return 1
}

// gradeOf groups stream orders into three widths, the same groups as for half-distances.
func gradeOf(order int) int { return min(2, max(0, (order-1)/2)) }

// drawReaches draws the reach at risk of the first water stage, and the possible reach beyond it, with
// the high class on top.
func (m *mapDrawing) drawReaches(run *result.Run) {
	var classes [drift.High - drift.Possible + 1]*tracer
	for i := range classes {
		classes[i] = newTracer(&m.view)
	}
	for i := range run.Reaches {
		if r := &run.Reaches[i]; r.Stage == 0 {
			classes[min(r.Class, drift.High)-drift.Possible].add(r.Path)
		}
	}
	for i, t := range classes {
		m.layer("risk "+result.ClassWord(drift.Possible+drift.Class(i)), t.path())
	}
}

// mostBarriers is the most barriers drawn. Our choice.
const mostBarriers = 300

// drawBarriers draws a bar across the stream at each barrier.
func (m *mapDrawing) drawBarriers(net *stream.Network) {
	if net == nil {
		return
	}
	var data []byte
	taken := map[dot]bool{}
	for e := range net.Order {
		kind, _ := net.BarrierAt(int32(e))
		if kind == stream.NoBarrier || len(taken) >= mostBarriers {
			continue
		}
		path := net.Paths.At(e)
		if len(path) < 2 {
			continue
		}
		at := m.view.at(path[len(path)-1])
		cell := dot{at.x / crowded, at.y / crowded}
		if !m.view.inside(at, 0) || taken[cell] {
			continue
		}
		taken[cell] = true
		half := 6.0 * perPixel
		dx, dy := m.arrival(path, at, half)
		long := math.Max(1, math.Hypot(dx, dy))
		across := dot{int(math.Round(-dy / long * half)), int(math.Round(dx / long * half))}
		data = appendDot(data, 'M', dot{at.x - across.x, at.y - across.y})
		data = appendDot(data, 'l', dot{2 * across.x, 2 * across.y})
		m.taken = append(m.taken, around(at, int(half), int(half)))
	}
	m.layer("barrier", string(data))
}

// arrival returns the way in which a line comes to its end: from its last place that is at least so far
// from the end on the map, else from its beginning.
func (m *mapDrawing) arrival(path orb.LineString, end dot, far float64) (dx, dy float64) {
	for i := len(path) - 2; i >= 0; i-- {
		from := m.view.at(path[i])
		dx, dy = float64(end.x-from.x), float64(end.y-from.y)
		if math.Hypot(dx, dy) >= far {
			break
		}
	}
	return dx, dy
}
