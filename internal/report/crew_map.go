package report

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// The map of a stop. Our choices: it shows a stand, the water beside it and the ground to walk across
// to get there.
const (
	stopPixels  = 460
	leastAround = 300.0  // metres from the stop to the edge
	mostAround  = 3000.0 // the same, at most
	mostDots    = 200    // survey positions on one map
)

// window is the area that one map shows.
type window struct {
	stop         int
	view         view
	south, north float64 // degrees
	edges        []int32
	stands       []int32
	records      []int32
}

// maps draws the map of every stop with a sheet. It finds what is in each window by latitude, so that
// the data need not be searched for every stop.
func (c *crewComposer) maps() []tag {
	windows := make([]window, len(c.shown))
	for i := range c.shown {
		windows[i] = c.window(i)
	}
	slices.SortStableFunc(windows, func(a, b window) int {
		switch {
		case a.south < b.south:
			return -1
		case a.south > b.south:
			return 1
		}
		return a.stop - b.stop
	})
	c.gather(windows)
	out := make([]tag, len(windows))
	for k := range windows {
		out[windows[k].stop] = c.draw(&windows[k])
	}
	return out
}

// window returns the area for a stop: its stand, and the nearest water if that is known.
func (c *crewComposer) window(i int) window {
	at, around := c.shown[i].At, leastAround
	if s := c.run.Visits[c.shown[i].Visit].Stand; s >= 0 {
		stand := &c.run.Stands[s]
		around = max(around, 1.5*math.Sqrt(float64(stand.Gross)))
		if away := float64(stand.Zone.WaterDistance); !math.IsInf(away, 0) {
			around = max(around, 1.25*away)
		}
	}
	around = min(around, mostAround)
	v := view{width: stopPixels * perPixel, height: stopPixels * perPixel * 7 / 10, frame: earth.NewFrame(at)}
	v.scale = float64(v.height) / 2 / around
	v.left, v.top = -float64(v.width)/2/v.scale, around
	high := around / metersPerDegree
	return window{stop: i, view: v, south: at[1] - high, north: at[1] + high}
}

// metersPerDegree is slightly less than the shortest degree of latitude, at the equator (110,574 m), so
// that a window in degrees is never too small.
const metersPerDegree = 110_500

// gather finds what is in the windows, which are sorted by their southern edges.
func (c *crewComposer) gather(windows []window) {
	highest := 0.0
	for k := range windows {
		highest = max(highest, windows[k].north-windows[k].south)
	}
	within := func(south, north float64, take func(w *window)) {
		first, _ := slices.BinarySearchFunc(windows, south-highest, func(w window, lat float64) int {
			if w.south < lat {
				return -1
			}
			return 1
		})
		for k := first; k < len(windows) && windows[k].south <= north; k++ {
			if windows[k].north >= south {
				take(&windows[k])
			}
		}
	}
	if c.run.Network != nil {
		for e, path := range c.run.Network.Paths.All() {
			south, north := 90.0, -90.0
			for _, p := range path {
				south, north = min(south, p[1]), max(north, p[1])
			}
			within(south, north, func(w *window) { w.edges = append(w.edges, int32(e)) })
		}
	}
	const beside = mostAround / metersPerDegree
	for i := range c.run.Stands {
		at := c.run.Stands[i].Center
		within(at[1]-beside, at[1]+beside, func(w *window) {
			if w.view.inside(w.view.at(at), w.view.width) {
				w.stands = append(w.stands, int32(i))
			}
		})
	}
	for i := range c.run.Records.Len() {
		at := c.run.Records.At(i).Position
		within(at[1], at[1], func(w *window) {
			if len(w.records) < mostDots && w.view.inside(w.view.at(at), 0) {
				w.records = append(w.records, int32(i))
			}
		})
	}
}

// draw draws one window: water, other stands, survey positions, and the stand itself.
func (c *crewComposer) draw(w *window) tag {
	s := c.shown[w.stop]
	m := &mapDrawing{view: w.view}
	id := fmt.Sprint("map-", s.Number)
	m.raw(`<svg class="map" viewBox="0 0 `, fmt.Sprint(w.view.width), " ", fmt.Sprint(w.view.height), `" role="img" aria-labelledby="`, id, "-t ", id, "-d\">\n",
		`<title id="`, id, `-t">Map of stop `, fmt.Sprint(s.Number), `</title>`, "\n",
		`<desc id="`, id, `-d">`, escape("The stand at the cross, the streams about it, other stands and where surveyors stood. North is up."), "</desc>\n")
	c.drawWater(m, w)
	own := c.run.Visits[s.Visit].Stand
	for _, i := range w.stands {
		class := "ground done"
		if i == own {
			class = "ground live"
		}
		m.layer(class, string(m.outline(c.run.Stands[i].Footprint.Polygons())))
	}
	var dots []byte
	for _, i := range w.records {
		dots = appendMark(dots, w.view.at(c.run.Records.At(int(i)).Position), 2*perPixel, true)
	}
	m.layer("dots", string(dots))
	at, half := w.view.at(s.At), 9*perPixel
	m.layer("cross", fmt.Sprintf("M%d %dh%dM%d %dv%d", at.x-half, at.y, 2*half, at.x, at.y-half, 2*half))
	m.taken = append(m.taken, around(at, half, half))
	m.drawScale()
	c.drawNames(m, w)
	m.raw("</svg>")
	return tag(m.b)
}

// outline returns polygons as path data.
func (m *mapDrawing) outline(polygons orb.MultiPolygon) []byte {
	var data []byte
	for _, polygon := range polygons {
		for _, ring := range polygon {
			line := make([]dot, len(ring))
			for i, p := range ring {
				line[i] = m.view.at(p)
			}
			data = appendRing(data, thinned(line, 1))
		}
	}
	return data
}

// drawWater draws the streams of a window.
func (c *crewComposer) drawWater(m *mapDrawing, w *window) {
	grades := [3]*tracer{newTracer(&m.view), newTracer(&m.view), newTracer(&m.view)}
	for _, e := range w.edges {
		grades[gradeOf(c.run.Network.Order[e])].addAcross(c.run.Network.Paths.At(int(e)))
	}
	for i, t := range grades {
		m.layer(fmt.Sprintf("water grade%d", i), t.path())
	}
}

// addAcross adds the stretches of a line that may cross the map, even if all its vertices are outside.
func (t *tracer) addAcross(ls orb.LineString) {
	var run []dot
	keep := func() {
		if len(run) > 1 {
			t.runs = append(t.runs, thinned(run, 1))
		}
		run = nil
	}
	for i := 1; i < len(ls); i++ {
		a, b := t.view.at(ls[i-1]), t.view.at(ls[i])
		if max(a.x, b.x) < 0 || min(a.x, b.x) > t.view.width || max(a.y, b.y) < 0 || min(a.y, b.y) > t.view.height {
			keep()
			continue
		}
		if run == nil {
			run = append(run, a)
		}
		if b != run[len(run)-1] {
			run = append(run, b)
		}
	}
	keep()
}

// drawNames writes each stream's name once, at a vertex on the map where there is room.
func (c *crewComposer) drawNames(m *mapDrawing, w *window) {
	done := map[string]bool{}
	for _, e := range w.edges {
		name := c.run.Network.LineName(c.run.Network.Net.Edges[e].Line)
		if name == "" || done[name] {
			continue
		}
		for _, p := range c.run.Network.Paths.At(int(e)) {
			if at := w.view.at(p); w.view.inside(at, 0) && m.drawName(clean(name, 28), at) {
				done[name] = true
				break
			}
		}
	}
}
