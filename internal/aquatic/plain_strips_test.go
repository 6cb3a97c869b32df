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
		var want []strip
		if d-radius <= reach {
			_, down := r.lines[own].from(p)
			at := down * r.length(own) / r.drawn(own)
			side, other := Right, Left
			if leftOf(r.lines[own].path, p) {
				side, other = Left, Right
			}
			half := radius
			if d > reach {
				half = math.Sqrt(radius*radius - (d-reach)*(d-reach))
				edge++
			}
			want = r.beside(own, side, at, half)
			if d < radius {
				across++
				want = append(want, r.beside(own, other, at, math.Sqrt(radius*radius-d*d))...)
			}
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

// TestTouchingAgainstAPlainModel: where paths and areas touch the zone of up to four winding
// creeks. The model tries every vertex, and places at most 20 m apart between them. For an area it
// also tries the places of the creeks inside it.
func TestTouchingAgainstAPlainModel(t *testing.T) {
	dice := rand.New(rand.NewPCG(8, 1))
	middle := places["south of the equator"]
	frame := earth.NewFrame(middle)
	type touch struct {
		line int
		down float64
	}
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
		each := func(path []orb.Point, look func(orb.Point)) {
			for i, p := range path {
				look(p)
				if i+1 < len(path) {
					q := path[i+1]
					l := math.Hypot(q[0]-p[0], q[1]-p[1])
					steps := int(math.Ceil(l / 20))
					unclear = unclear || math.Abs(l/20-math.Round(l/20)) < 1e-3
					for k := 1; k < steps; k++ {
						f := float64(k) / float64(steps)
						look(orb.Point{p[0] + f*(q[0]-p[0]), p[1] + f*(q[1]-p[1])})
					}
				}
			}
		}
		each(path, look)
		if len(area) > 0 {
			for _, c := range creeks {
				each(c.path, func(p orb.Point) {
					xs := spans(area, p[1])
					in := false
					for i := 0; i+1 < len(xs); i += 2 {
						in = in || xs[i] <= p[0] && p[0] <= xs[i+1]
						unclear = unclear || math.Abs(xs[i]-p[0]) < 0.01 || math.Abs(xs[i+1]-p[0]) < 0.01
					}
					if in {
						look(p)
					}
				})
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

// TestLakeAwayFromStreams: a stand is 60 m from a lake without a stream, and 2 km from the only
// stream. Its nearest bank is the lake's edge, but its place is on the stream. By hand.
func TestLakeAwayFromStreams(t *testing.T) {
	for place, middle := range places {
		var ring orb.Ring
		for _, xy := range []orb.Point{{-100, -100}, {100, -100}, {100, 100}, {-100, 100}, {-100, -100}} {
			p := at(middle, xy[0], xy[1])
			if middle[0] == 180 && p[0] < 0 {
				p[0] += 360
			}
			ring = append(ring, p)
		}
		lake := stream.Surface{ID: "l", Name: "Tarn", Kind: stream.Lake, Areas: orb.MultiPolygon{{ring}}}
		net, _ := stream.Connect([]stream.Centerline{centerline("a", middle, 8, orb.Point{2000, 1000}, orb.Point{2000, -1000})}, nil, []stream.Surface{lake}, flow.Options{Snap: 1})
		w := NewWater(net, DefaultSettings())
		for _, c := range []struct {
			xy   orb.Point
			away float64
			zone bool
		}{{orb.Point{-160, 10}, 50, false}, {orb.Point{-135, 10}, 25, true}, {orb.Point{0, 0}, 0, true}, {orb.Point{900, 30}, 790, false}, {orb.Point{1990, -50}, 0, true}} {
			st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*100), c.xy)
			got, touches := w.Judge(st, records, stand.DefaultSettings())
			if math.Abs(float64(got.WaterDistance)-c.away) > 0.01 || got.InZone != c.zone || got.Line != 0 || (len(touches) == 1) != c.zone {
				t.Errorf("%s, %v: %v m away, in the zone %v, line %d, %d touch", place, c.xy, got.WaterDistance, got.InZone, got.Line, len(touches))
			}
			// 30 m around the bank of a lake without a stream, and 34 m around the stream
			if want := math.Abs(1000 - c.xy[1]); math.Abs(float64(got.Place.Offset)-want) > 0.1 {
				t.Errorf("%s, %v: enters at %v m, want %v", place, c.xy, got.Place.Offset, want)
			}
		}
	}
}

// TestZoneOfLongStreams: a stream drawn as forty lines end to end over four degrees: along a
// parallel, along a meridian, and diagonally across both. It needs several frames. By hand, the
// area of its zone is its length times its width, plus a disc. The longitudes of a stream across
// the antimeridian continue past 180.
func TestZoneOfLongStreams(t *testing.T) {
	for name, c := range map[string]struct{ from, to orb.Point }{
		"along the equator":        {orb.Point{10.25, 0.3}, orb.Point{14.25, 0.3}},
		"down a meridian":          {orb.Point{-70.5, 48.25}, orb.Point{-70.5, 44.25}},
		"across both":              {orb.Point{20, -31}, orb.Point{23, -34}},
		"over the antimeridian":    {orb.Point{178.5, -17}, orb.Point{181.5, -17.5}},
		"a little over one square": {orb.Point{30.2, 50.1}, orb.Point{31.9, 50.15}},
	} {
		const n = 40
		place := func(i int) orb.Point {
			f := float64(i) / n
			return orb.Point{c.from[0] + f*(c.to[0]-c.from[0]), c.from[1] + f*(c.to[1]-c.from[1])}
		}
		var lines []stream.Centerline
		long := 0.0
		for i := range n {
			line := centerline(fmt.Sprint(i), orb.Point{}, 40)
			for k := range 5 { // steps of a fortieth of a degree or less
				f := float64(k) / 4
				a, b := place(i), place(i+1)
				line.Path = append(line.Path, orb.Point{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1])})
			}
			long += float64(earth.LineLength(line.Path))
			for k := range line.Path {
				line.Path[k][0] = earth.Wrap(line.Path[k][0])
			}
			lines = append(lines, line)
		}
		zones := water(lines...).Dissolve(2)
		if len(zones) != 1 || len(zones[0].Geometry.Polygons()) != 1 || len(zones[0].Geometry.Polygons()[0]) != 1 || zones[0].Lines != n {
			t.Fatalf("%s: %d zones, of %d parts", name, len(zones), len(zones[0].Geometry.Polygons()))
		}
		const r = 20 + 30.0
		want := 2*r*long + math.Pi*r*r
		for _, got := range []geo.SquareMeters{zones[0].Area, earth.Area(zones[0].Geometry.Polygons())} {
			if math.Abs(float64(got)/want-1) > 1e-4 {
				t.Errorf("%s: zone of %.0f m2, want %.0f", name, got, want)
			}
		}
		box := zones[0].Geometry.Polygons().Bound()
		middle := (c.from[0] + c.to[0]) / 2
		if got := (box.Min[0] + box.Max[0]) / 2; math.Abs(earth.Wrap(got-middle)) > 0.001 || box.Max[0]-box.Min[0] > 5 {
			t.Errorf("%s: longitudes from %v to %v", name, box.Min[0], box.Max[0])
		}
	}
}
