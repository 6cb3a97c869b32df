package report

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// Sizes of the pictures of answers, in their own units. Our choice.
const (
	chartWide, chartHigh = 420.0, 320.0
	answerMapWide        = 420.0
	answerMapMost        = 640.0 // largest height
)

// draw draws a chart or a map.
func (p *Picture) draw(id string, number int) tag {
	if len(p.Lines) > 0 {
		return p.chart(id, number)
	}
	return p.places(id, number)
}

// open begins a picture.
func (p *Picture) open(c *canvas, id string, number int, w, h float64) {
	name := fmt.Sprintf("%s-%d", id, number+1)
	c.raw(`<svg class="chart" viewBox="0 0 `, length(w), " ", length(h), `" role="img" aria-labelledby="`, name, `-title `, name, "-text\">\n",
		`<title id="`, name, `-title">`, escape(p.Title), "</title>\n", `<desc id="`, name, `-text">`, escape(p.Text), "</desc>\n")
}

// chart draws lines in a chart with two axes.
func (p *Picture) chart(id string, number int) tag {
	var c canvas
	const left, top, right, bottom = 52.0, 24.0, 24.0, 46.0
	w, h := chartWide-left-right, chartHigh-top-bottom
	at := func(x, y float64) place { return place{left + w*x, top + h*(1-y)} }
	p.open(&c, id, number, chartWide, chartHigh)
	for _, t := range p.Y.Ticks {
		a, b := at(0, t.At), at(1, t.At)
		c.segment(a.x, a.y, b.x, b.y, "grid")
		c.text(a.x-6, a.y+4, "end soft", t.Label)
	}
	for _, t := range p.X.Ticks {
		a, b := at(t.At, 0), at(t.At, 1)
		c.segment(a.x, a.y, b.x, b.y, "grid")
		c.text(a.x, a.y+17, "mid soft", t.Label)
	}
	c.text(left+w/2, chartHigh-8, "mid", p.X.Label)
	c.text(left, top-8, "", p.Y.Label)
	for _, line := range p.Lines {
		places := make([]place, len(line.At))
		for i, v := range line.At {
			places[i] = at(min(1, max(0, v[0])), min(1, max(0, v[1])))
		}
		class := "curve"
		if line.Dashed {
			class = "dashed"
		}
		c.path(places, class)
	}
	c.raw("</svg>")
	return tag(c.b)
}

// places draws a map in metres around its middle.
func (p *Picture) places(id string, number int) tag {
	box := orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	var corners []orb.Point
	for _, line := range p.Paths {
		corners = append(corners, line.Path...)
	}
	for _, mark := range p.Marks {
		corners = append(corners, mark.At)
	}
	frame := earth.NewFrame(earth.Center(corners))
	for _, q := range corners {
		box = box.Extend(frame.Forward(q))
	}
	const edge = 14.0
	wide, high := max(1, box.Max[0]-box.Min[0]), max(1, box.Max[1]-box.Min[1])
	scale := min((answerMapWide-2*edge)/wide, (answerMapMost-2*edge)/high)
	at := func(q orb.Point) place {
		xy := frame.Forward(q)
		return place{edge + (xy[0]-box.Min[0])*scale, edge + (box.Max[1]-xy[1])*scale}
	}
	var c canvas
	p.open(&c, id, number, wide*scale+2*edge, high*scale+2*edge)
	for _, line := range p.Paths {
		class := "water"
		if line.Class != class {
			class = "risk " + line.Class
		}
		c.path(sparse(line.Path, at), class)
	}
	for _, mark := range p.Marks {
		where, class := at(mark.At), "hit"
		if mark.Miss {
			class = "miss"
		}
		c.raw(`<circle cx="`, length(where.x), `" cy="`, length(where.y), `" r="5" class="`, class, `"><title>`, escape(mark.Label), "</title></circle>\n")
	}
	c.raw("</svg>")
	return tag(c.b)
}

// sparse leaves out positions too close to the previous one to be seen.
func sparse(path orb.LineString, at func(orb.Point) place) []place {
	var out []place
	for i, q := range path {
		p := at(q)
		if n := len(out); n == 0 || i == len(path)-1 || math.Hypot(p.x-out[n-1].x, p.y-out[n-1].y) >= 1.5 {
			out = append(out, p)
		}
	}
	return out
}

// Picture is a chart or a map.
type Picture struct {
	Title, Text string // for screen readers: what is drawn, and what it shows
	Caption     string
	X, Y        Axis        // of a chart
	Lines       []ChartLine // of a chart
	Paths       []MapPath   // of a map
	Marks       []MapMark   // of a map
}

// Axis is one axis of a chart. Values are shares of its length, 0 to 1.
type Axis struct {
	Label string
	Ticks []Tick
}

// Tick is a labelled position on an axis.
type Tick struct {
	At    float64
	Label string
}

// ChartLine is a line of a chart. A dashed line is for comparison.
type ChartLine struct {
	At     [][2]float64
	Dashed bool
}

// MapPath is a line of a map, in degrees, with the class by which it is drawn: water, low, moderate or
// high.
type MapPath struct {
	Path  orb.LineString
	Class string
}

// MapMark is a mark on a map: filled for a hit, hollow for a miss.
type MapMark struct {
	At    orb.Point
	Miss  bool
	Label string
}
