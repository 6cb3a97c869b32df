package aquatic

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
)

// run is a stream in plane metres, drawn as several lines end to end. Each line has a recorded
// length, or 0 for that of its path.
type run struct {
	lines    []creek
	recorded []float64
	joined   []bool // by line: a tributary joins at its end
}

// length returns the recorded length of a line, or else that of its path.
func (r run) length(i int) float64 { return cmp.Or(r.recorded[i], r.drawn(i)) }

func (r run) drawn(i int) (sum float64) {
	p := r.lines[i].path
	for k := 1; k < len(p); k++ {
		sum += math.Hypot(p[k][0]-p[k-1][0], p[k][1]-p[k-1][1])
	}
	return sum
}

// place returns the point at a recorded distance along a line, in metres.
func (r run) place(i int, at float64) orb.Point {
	left := at * r.drawn(i) / r.length(i)
	p := r.lines[i].path
	for k := 1; k < len(p); k++ {
		l := math.Hypot(p[k][0]-p[k-1][0], p[k][1]-p[k-1][1])
		if left <= l || k == len(p)-1 {
			return orb.Point{p[k-1][0] + left/l*(p[k][0]-p[k-1][0]), p[k-1][1] + left/l*(p[k][1]-p[k-1][1])}
		}
		left -= l
	}
	panic("a path has two places")
}

// leftOf says whether a place is left of a line, judged at the nearest segment.
func leftOf(path []orb.Point, p orb.Point) bool {
	best, is := math.Inf(1), false
	for k := 1; k < len(path); k++ {
		if d, _ := (creek{path: path[k-1 : k+1]}).from(p); d < best-1e-9 {
			a, b := path[k-1], path[k]
			best, is = d, (b[0]-a[0])*(p[1]-a[1])-(b[1]-a[1])*(p[0]-a[0]) > 0
		}
	}
	return is
}

// strip is a strip of bank in the model.
type strip struct {
	line     int
	side     Side
	from, to float64
}

// beside returns the strips on one side from half before a place to half after it. Where a strip
// extends past the end of a line it continues on the next line, unless a tributary joins there.
func (r run) beside(line int, side Side, at, half float64) (out []strip) {
	keep := func(i int, from, to float64) {
		if from, to = max(0, from), min(to, r.length(i)); to > from {
			out = append(out, strip{i, side, from, to})
		}
	}
	from, to, length := at-half, at+half, r.length(line)
	keep(line, from, to)
	if from < 0 && line > 0 && !r.joined[line-1] {
		keep(line-1, r.length(line-1)+from, math.Inf(1))
	}
	if to > length && line+1 < len(r.lines) && !r.joined[line] {
		keep(line+1, 0, to-length)
	}
	return out
}

// besideDisc returns the strips of a disc whose center is d from a line, the nearest.
func (r run) besideDisc(line int, p orb.Point, d, radius float64) (out []strip) {
	reach := r.lines[line].half + 30
	if d-radius > reach {
		return nil
	}
	_, down := r.lines[line].from(p)
	at := down * r.length(line) / r.drawn(line)
	side, other := Right, Left
	if leftOf(r.lines[line].path, p) {
		side, other = Left, Right
	}
	half := radius
	if d > reach {
		half = math.Sqrt(radius*radius - (d-reach)*(d-reach))
	}
	out = r.beside(line, side, at, half)
	if d < radius {
		out = append(out, r.beside(line, other, at, math.Sqrt(radius*radius-d*d))...)
	}
	return out
}

// drawRun draws a stream of one to three lines that runs south, and its centerlines. Some have a
// tributary.
func drawRun(dice *rand.Rand, middle orb.Point) (run, []stream.Centerline) {
	half := 1 + 10*dice.Float64()
	r := run{}
	at := orb.Point{40 * (dice.Float64() - 0.5), 500}
	var lines []stream.Centerline
	for i := range 1 + dice.IntN(3) {
		path := []orb.Point{at}
		for range 1 + dice.IntN(3) {
			at = orb.Point{at[0] + 60*(dice.Float64()-0.5), at[1] - 40 - 160*dice.Float64()}
			path = append(path, at)
		}
		r.lines = append(r.lines, creek{path: path, half: half})
		r.recorded = append(r.recorded, 0)
		if dice.IntN(2) == 0 {
			r.recorded[i] = r.drawn(i) * (0.8 + 0.4*dice.Float64())
		}
		line := centerline(fmt.Sprint(i), middle, geo.Meters(2*half), path...)
		line.Length = geo.Meters(r.recorded[i])
		lines = append(lines, line)
		r.joined = append(r.joined, false)
	}
	for i := range len(r.lines) - 1 {
		if dice.IntN(3) == 0 {
			r.joined[i] = true
			end := r.lines[i].path[len(r.lines[i].path)-1]
			lines = append(lines, centerline(fmt.Sprint("t", i), middle, 2, orb.Point{end[0] + 900, end[1]}, end))
		}
	}
	return r, lines
}

// TestStripsAgainstAPlainModel: the strips beside one disc on a winding stream of several lines, in
// plane metres. Some lines have a recorded length other than that of their path. Each strip is
// compared by line, side, beginning, end and the part of the path it covers.
func TestStripsAgainstAPlainModel(t *testing.T) {
	dice := rand.New(rand.NewPCG(11, 2))
	over, across, edge := 0, 0, 0
	for n := 0; n < 500; {
		middle := places[[]string{"equator", "south of the equator", "on the antimeridian"}[dice.IntN(3)]]
		r, lines := drawRun(dice, middle)
		radius := 1 + 14*dice.Float64()
		line := dice.IntN(len(r.lines))
		near := r.place(line, dice.Float64()*r.length(line))
		if dice.IntN(2) == 0 { // near the end of a line
			near = r.place(line, max(0, r.length(line)-radius*dice.Float64()))
		}
		p := orb.Point{near[0] + 100*(dice.Float64()-0.5), near[1]}
		d, own := math.Inf(1), 0
		unclear := false
		for i, c := range r.lines {
			away, down := c.from(p)
			if away < d-1e-6 {
				d, own = away, i
			}
			unclear = unclear || down < 0.01 && i > 0 && away <= d+1e-6 || down > r.drawn(i)-0.01 && i+1 < len(r.lines) && away <= d+1e-6
		}
		for i, joined := range r.joined {
			if end := r.lines[i].path[len(r.lines[i].path)-1]; joined {
				away, _ := creek{path: []orb.Point{{end[0] + 900, end[1]}, end}}.from(p)
				unclear = unclear || away < d+15
			}
		}
		reach := r.lines[own].half + 30
		if unclear || math.Abs(d-radius-reach) < 0.01 || math.Abs(d-radius) < 0.01 {
			continue
		}
		n++
		want := r.besideDisc(own, p, d, radius)
		if d > reach && len(want) > 0 {
			edge++
		}
		if d < radius {
			across++
		}
		net := connected(lines)
		banks := NewWater(net, DefaultSettings()).NewBanks()
		st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*radius*radius), p)
		got := banks.Of(st, records, stand.DefaultSettings(), nil)
		if len(got) != len(want) {
			t.Fatalf("case %d: %v, want %v", n, got, want)
		}
		lineOf := func(s Strip) int {
			var i int
			_, _ = fmt.Sscan(net.Lines[banks.Line(s)].ID, &i)
			return i
		}
		if len(got) > 2 || len(got) == 2 && lineOf(got[0]) != lineOf(got[1]) {
			over++
		}
		slices.SortFunc(got, func(a, b Strip) int {
			return cmp.Or(cmp.Compare(lineOf(a), lineOf(b)), cmp.Compare(a.Side, b.Side))
		})
		slices.SortFunc(want, func(a, b strip) int { return cmp.Or(cmp.Compare(a.line, b.line), cmp.Compare(a.side, b.side)) })
		for i, s := range got {
			w := want[i]
			if lineOf(s) != w.line || s.Side != w.side || s.Shore != -1 || math.Abs(float64(s.From)-w.from) > 0.02 || math.Abs(float64(s.To)-w.to) > 0.02 {
				t.Fatalf("case %d: strip %+v, want %+v", n, s, w)
			}
			path := earth.NewFrame(middle).ProjectLine(banks.Path(s))
			for k, at := range map[int]float64{0: w.from, len(path) - 1: w.to} {
				if on := r.place(w.line, at); math.Hypot(on[0]-path[k][0], on[1]-path[k][1]) > 0.03 {
					t.Fatalf("case %d: %+v is drawn at %v, want %v", n, s, path[k], on)
				}
			}
		}
	}
	if over < 5 || across < 20 || edge < 20 {
		t.Errorf("%d over an end, %d across the centerline, %d across the edge of the zone: too few", over, across, edge)
	}
}

// star draws a star-shaped ring: every point of it is visible from the middle.
func star(dice *rand.Rand, middle orb.Point, least, most float64) orb.Ring {
	n := 3 + dice.IntN(7)
	var ring orb.Ring
	for i := range n {
		a, r := 2*math.Pi*(float64(i)+0.8*dice.Float64())/float64(n), least+(most-least)*dice.Float64()
		ring = append(ring, orb.Point{middle[0] + r*math.Cos(a), middle[1] + r*math.Sin(a)})
	}
	return append(ring, ring[0])
}

// spans returns where an east-west line enters and leaves the polygon, from west to east:
// alternately the beginning and the end of a part inside.
func spans(polygon orb.Polygon, y float64) (xs []float64) {
	for _, ring := range polygon {
		for i := 1; i < len(ring); i++ {
			if a, b := ring[i-1], ring[i]; (a[1] > y) != (b[1] > y) {
				xs = append(xs, a[0]+(y-a[1])/(b[1]-a[1])*(b[0]-a[0]))
			}
		}
	}
	slices.Sort(xs)
	return xs
}

// TestStripsOfOutlinesAgainstAPlainModel: a straight stream 8 m wide runs from north to south. The
// bank at a place is in a strip if a line across the stream, 34 m to that side, meets the drawn
// outline. Some outlines have a hole. Places are tried every half metre, except within 1.5 m of a
// change, or of where the outline crosses the centerline.
func TestStripsOfOutlinesAgainstAPlainModel(t *testing.T) {
	dice := rand.New(rand.NewPCG(5, 5))
	middle := places["south of the equator"]
	banks := water(centerline("a", middle, 8, orb.Point{0, 300}, orb.Point{0, -300})).NewBanks()
	tried := [2][2]int{}
	for n := range 80 {
		at := orb.Point{120 * (dice.Float64() - 0.5), 300 * (dice.Float64() - 0.5)}
		polygon := orb.Polygon{star(dice, at, 20, 110)}
		if n%3 == 0 {
			polygon = append(polygon, star(dice, at, 5, 7))
			slices.Reverse(polygon[1])
		}
		meets := func(side Side, y float64) bool {
			xs := spans(polygon, y)
			for i := 0; i+1 < len(xs); i += 2 {
				west, east := xs[i], xs[i+1]
				if side == Right {
					west, east = -east, -west
				}
				if east >= 0 && west <= 34 {
					return true
				}
			}
			return false
		}
		covered := func(y float64) (in bool) { // whether the centerline is inside the outline
			for _, x := range spans(polygon, y) {
				in = in != (x < 0)
			}
			return in
		}
		st, records := drawnStand(t, middle, polygon)
		strips := banks.Of(st, records, stand.DefaultSettings(), nil)
		for side := range Right + 1 {
			for y := -290.0; y <= 290; y += 0.5 {
				want := meets(side, y)
				clear := true
				for off := -1.5; off <= 1.5; off += 0.25 {
					clear = clear && meets(side, y+off) == want && covered(y+off) == covered(y)
				}
				if !clear {
					continue
				}
				got := slices.ContainsFunc(strips, func(s Strip) bool {
					return s.Side == side && float64(s.From) <= 300-y && 300-y <= float64(s.To)
				})
				if got != want {
					t.Fatalf("outline %d %v: side %d at %v is in a strip %v, want %v", n, polygon, side, y, got, want)
				}
				if want {
					tried[side][1]++
				} else {
					tried[side][0]++
				}
			}
		}
	}
	for side, by := range tried {
		if by[0] < 1000 || by[1] < 1000 {
			t.Errorf("side %d: %v half metres out of strips and in them", side, by)
		}
	}
}

// walk passes the vertices of a path to look, and places at most 20 m apart between them. unclear says
// that rounding may decide how many places a segment has.
func walk(path []orb.Point, look func(orb.Point)) (unclear bool) {
	for i, p := range path {
		look(p)
		if i+1 == len(path) {
			break
		}
		q := path[i+1]
		l := math.Hypot(q[0]-p[0], q[1]-p[1])
		steps := int(math.Ceil(l / 20))
		unclear = unclear || math.Abs(l/20-math.Round(l/20)) < 1e-3
		for k := 1; k < steps; k++ {
			f := float64(k) / float64(steps)
			look(orb.Point{p[0] + f*(q[0]-p[0]), p[1] + f*(q[1]-p[1])})
		}
	}
	return unclear
}

// insideOf says whether a place is inside an area, and whether it is too near the edge to tell.
func insideOf(area orb.Polygon, p orb.Point) (in, unclear bool) {
	xs := spans(area, p[1])
	for i := 0; i+1 < len(xs); i += 2 {
		in = in || xs[i] <= p[0] && p[0] <= xs[i+1]
		unclear = unclear || math.Abs(xs[i]-p[0]) < 0.01 || math.Abs(xs[i+1]-p[0]) < 0.01
	}
	return in, unclear
}

// touch is a place on a creek, metres down its path.
type touch struct {
	line int
	down float64
}

// TestTouchingAgainstAPlainModel: where paths and areas touch the zone of up to four winding
// creeks. The model tries every vertex, and places at most 20 m apart between them. For an area it
// also tries the places of the creeks inside it.
func TestTouchingAgainstAPlainModel(t *testing.T) {
	dice := rand.New(rand.NewPCG(8, 1))
	middle := places["south of the equator"]
	frame := earth.NewFrame(middle)
	touched, dry := 0, 0
	for n := 0; n < 150; {
		creeks, lines := drawCreeks(dice, middle)
		if crossing(creeks) {
			continue
		}
		path := []orb.Point{{500 * (dice.Float64() - 0.5), 500 * (dice.Float64() - 0.5)}}
		for range dice.IntN(4) {
			path = append(path, orb.Point{500 * (dice.Float64() - 0.5), 500 * (dice.Float64() - 0.5)})
		}
		area := orb.Polygon{}
		if n%2 == 0 {
			path = star(dice, orb.Point{200 * (dice.Float64() - 0.5), 200 * (dice.Float64() - 0.5)}, 30, 250)
			area = orb.Polygon{orb.Ring(path)}
		}
		unclear := false
		var want []touch
		look := func(p orb.Point) {
			away, of, down, clear := bankAt(creeks, p, 0)
			unclear = unclear || !clear && away < 31 || math.Abs(away-30) < 0.01
			if away <= 30 {
				want = append(want, touch{of, down})
			}
		}
		unclear = walk(path, look) || unclear
		if len(area) > 0 {
			for _, c := range creeks {
				unclear = walk(c.path, func(p orb.Point) {
					in, doubt := insideOf(area, p)
					unclear = unclear || doubt
					if in {
						look(p)
					}
				}) || unclear
			}
		}
		if unclear {
			continue
		}
		n++
		var degrees orb.LineString
		for _, p := range path {
			degrees = append(degrees, frame.Inverse(p))
		}
		var areas orb.MultiPolygon
		if len(area) > 0 {
			areas = orb.MultiPolygon{{orb.Ring(degrees)}}
		}
		net := connected(lines)
		got := NewWater(net, DefaultSettings()).Touching([]orb.LineString{degrees}, areas)
		is := func(g flow.Place, w touch) bool {
			return net.Lines[net.Net.Edges[g.Edge].Line].ID == fmt.Sprint("c", w.line) && math.Abs(float64(g.Offset)-w.down) < 0.05
		}
		for _, w := range want {
			if !slices.ContainsFunc(got, func(g flow.Place) bool { return is(g, w) }) {
				t.Fatalf("case %d: nothing touches %+v: %v", n, w, got)
			}
		}
		for i, g := range got {
			if !slices.ContainsFunc(want, func(w touch) bool { return is(g, w) }) {
				t.Fatalf("case %d: touches %v, want %v", n, g, want)
			}
			if i > 0 && (got[i-1].Edge > g.Edge || got[i-1].Edge == g.Edge && got[i-1].Offset >= g.Offset) {
				t.Fatalf("case %d: %v out of order", n, got)
			}
		}
		if len(want) > 0 {
			touched++
		} else {
			dry++
		}
	}
	if touched < 50 || dry < 5 {
		t.Errorf("%d touched, %d did not", touched, dry)
	}
}
