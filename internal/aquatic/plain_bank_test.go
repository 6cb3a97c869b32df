package aquatic

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
)

// creek is a stream in plane metres.
type creek struct {
	path []orb.Point
	half float64 // of its width
}

// from returns the distance of a place from the centerline of a creek, and how far down the creek
// the nearest place is: every segment is tried.
func (c creek) from(p orb.Point) (away, down float64) {
	away = math.Inf(1)
	passed := 0.0
	for i := 0; i+1 < len(c.path); i++ {
		a, b := c.path[i], c.path[i+1]
		dx, dy := b[0]-a[0], b[1]-a[1]
		length := math.Hypot(dx, dy)
		t := max(0, min(1, ((p[0]-a[0])*dx+(p[1]-a[1])*dy)/(length*length)))
		if d := math.Hypot(p[0]-a[0]-t*dx, p[1]-a[1]-t*dy); d < away {
			away, down = d, passed+t*length
		}
		passed += length
	}
	return away, down
}

// bankAt returns the distance of a patch from the nearest bank (below 0 on the water), the creek,
// and the place on it. clear is false where another bank is as near, within a millimetre, or the
// water reaches the patch on two sides.
func bankAt(creeks []creek, p orb.Point, r float64) (away float64, of int, down float64, clear bool) {
	away, clear = math.Inf(1), true
	for i, c := range creeks {
		d, at := c.from(p)
		d = max(0, d-r) - c.half
		if !math.IsInf(away, 1) && math.Abs(max(0, d)-max(0, away)) < 1e-3 {
			clear = false
		}
		if d < away {
			away, of, down = d, i, at
		}
	}
	return away, of, down, clear
}

// TestJudgeAgainstAPlainModel: three hundred stands of up to six patches among up to four bent
// creeks: whether each is in the zone, how far from the water, on which line, and which of its
// records touch the zone or nearly do, with the place where their fragments enter. Every patch and
// segment is tried, in plane metres.
func TestJudgeAgainstAPlainModel(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 1))
	middle := places["south of the equator"]
	in, near, dry := 0, 0, 0
	for n := 0; n < 300; {
		creeks, lines := drawCreeks(dice, middle)
		if crossing(creeks) { // crossing creeks would meet at nodes: orders and ties have cases by hand
			continue
		}
		net := connected(lines)
		s := DefaultSettings()
		s.Margin = geo.Meters(15 * dice.IntN(2))
		w := NewWater(net, s)
		r := 2 + 10*dice.Float64()
		var at []orb.Point
		spread := 20 + 200*dice.Float64()
		for range 1 + dice.IntN(6) {
			at = append(at, orb.Point{spread * (dice.Float64() - 0.5), spread * (dice.Float64() - 0.5)})
		}
		st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*r*r), at...)
		least, line, unclear := math.Inf(1), -1, false
		type entry struct {
			record int32
			line   int
			down   float64
			bank   float64
		}
		var want []entry
		leastMiddle := math.Inf(1)
		for i, p := range at {
			away, of, down, clear := bankAt(creeks, p, r)
			unclear = unclear || !clear || math.Abs(away-30) < 0.01 || math.Abs(away-30-float64(s.Margin)) < 0.01
			if away <= 30+float64(s.Margin) {
				want = append(want, entry{int32(i), of, down, away})
			}
			d, _ := creeks[of].from(p)
			if max(0, away) < max(0, least) || max(0, away) == max(0, least) && d < leastMiddle { // of several on the water, the one nearest to the centerline
				line, leastMiddle = of, d
			}
			least = min(least, away)
		}
		if unclear {
			continue
		}
		n++
		got, touches := w.Judge(st, records, stand.DefaultSettings())
		name := func(line int32) string { return net.Lines[line].ID }
		if got.InZone != (least <= 30) || math.Abs(float64(got.WaterDistance)-max(0, least)) > 2e-3 || name(got.Line) != fmt.Sprintf("c%d", line) {
			t.Fatalf("stand %d: in the zone %v, %g m from %s; want %g m from c%d", n, got.InZone, float64(got.WaterDistance), name(got.Line), least, line)
		}
		if len(touches) != len(want) || !slices.IsSortedFunc(touches, func(a, b Touch) int { return int(a.Record - b.Record) }) {
			t.Fatalf("stand %d: %+v, want %+v", n, touches, want)
		}
		for i, e := range want {
			g := touches[i]
			if g.Record != e.record || name(net.Net.Edges[g.Place.Edge].Line) != fmt.Sprintf("c%d", e.line) || math.Abs(float64(g.Place.Offset)-e.down) > 0.05 ||
				math.Abs(float64(g.Bank)-e.bank) > 2e-3 || g.InZone != (e.bank <= 30) {
				t.Fatalf("stand %d: %+v, want %+v", n, g, e)
			}
		}
		switch {
		case least <= 30:
			in++
		case len(want) > 0:
			near++
		default:
			dry++
		}
	}
	if in < 60 || near < 5 || dry < 30 {
		t.Errorf("%d in the zone, %d near it, %d upland: the stands try too little", in, near, dry)
	}
}

// drawCreeks draws up to four bent creeks that run south.
func drawCreeks(dice *rand.Rand, middle orb.Point) (creeks []creek, lines []stream.Centerline) {
	creeks = make([]creek, 1+dice.IntN(4))
	for i := range creeks {
		x := 300 * (dice.Float64() - 0.5)
		c := creek{half: 0.5 + 12*dice.Float64()}
		for y := 400.0; y >= -400; y -= 100 + 200*dice.Float64() {
			c.path = append(c.path, orb.Point{x + 160*(dice.Float64()-0.5), y})
		}
		if len(c.path) < 2 {
			c.path = append(c.path, orb.Point{x, -420})
		}
		creeks[i] = c
		lines = append(lines, centerline(fmt.Sprintf("c%d", i), middle, geo.Meters(2*c.half), c.path...))
	}
	return creeks, lines
}

// crossing says whether two creeks share a place.
func crossing(creeks []creek) bool {
	side := func(a, b, c orb.Point) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }
	for i, c := range creeks {
		for _, o := range creeks[:i] {
			for k := 0; k+1 < len(c.path); k++ {
				for l := 0; l+1 < len(o.path); l++ {
					a, b, p, q := c.path[k], c.path[k+1], o.path[l], o.path[l+1]
					if side(a, b, p)*side(a, b, q) <= 0 && side(p, q, a)*side(p, q, b) <= 0 {
						return true
					}
				}
			}
			for _, p := range o.path { // nor come within the snap distance
				if d, _ := c.from(p); d < 3 {
					return true
				}
			}
			for _, p := range c.path {
				if d, _ := o.from(p); d < 3 {
					return true
				}
			}
		}
	}
	return false
}

// connected joins lines into a network in their given direction.
func connected(lines []stream.Centerline) *stream.Network {
	net, _ := stream.Connect(lines, nil, nil, flow.Options{Snap: 1})
	return net
}
