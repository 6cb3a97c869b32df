package main

import (
	"fmt"
	"io"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// shape is a special form of region. The program works differently on it, while the numbers of
// points and lines are the same as usual.
type shape struct {
	does string // what is special
	// grow makes the streams; nil for basins in which the share braids of the lines are minor paths.
	grow   func(r *rand.Rand, lines int) region
	braids float64
	// size draws the number of points of the next stand, at most left; nil for standSize.
	size func(r *rand.Rand, left int) int
	// place places a stand's points; nil for placeStand.
	place func(r *rand.Rand, g region, size int) []orb.Point
	lakes bool // also write water.geojson, with a lake on one line in ten
}

// shapes are the forms for -shape. Our choice: each has slowed down a program that had been timed
// only on other forms.
var shapes = map[string]shape{
	"plain": {does: "river basins, stands of all sizes", braids: braidShare},
	"scattered": {does: "small stands: one record in six stands alone, the others in tens", braids: braidShare,
		size: smallSize},
	"far": {does: "one record in a hundred 20 to 50 km from every stream", braids: braidShare,
		place: func(r *rand.Rand, g region, size int) []orb.Point {
			at := placeStand(r, g, size)
			if r.IntN(100) == 0 {
				// in open sea north of the region; stands keep their form
				north := 20_000 + 30_000*r.Float64()
				_, perLat := earth.LocalScale(corner[1])
				up := corner[1] + north/perLat - at[0][1]
				for i := range at {
					at[i][1] += up
				}
			}
			return at
		}},
	"giant": {does: "one stand of all records", braids: braidShare,
		size:  func(_ *rand.Rand, left int) int { return left },
		place: upland},
	"north": {does: "one stand of all records along one line that runs south", grow: growSouth,
		size:  func(_ *rand.Rand, left int) int { return left },
		place: alongSouth},
	"braided": {does: "three lines in ten are minor paths of a braid", braids: 0.3},
	"lakes":   {does: "a lake on one line in ten", braids: braidShare, lakes: true},
	"fan":     {does: "all lines meet at one node", grow: growFan},
	"line":    {does: "one line of 300 km, whatever their number", grow: growLine},
	"comb":    {does: "one line with all others as its tributaries, one each 75 m, and one name for all", grow: growComb},
	"lattice": {does: "canals that divide and meet every 300 m, small stands", grow: growLattice,
		size:  smallSize,
		place: riverside},
}

// region makes the streams.
func (f shape) region(r *rand.Rand, lines int) region {
	if f.grow != nil {
		return f.grow(r, lines)
	}
	return growRegion(r, lines, f.braids)
}

// shapeNames lists the shapes for help.
func shapeNames() string { return strings.Join(slices.Sorted(maps.Keys(shapes)), ", ") }

// smallSize draws the size of a small stand. Two in three stands are single records: of the 2 + 10 records of
// three stands, one in six.
func smallSize(r *rand.Rand, left int) int {
	if r.IntN(3) > 0 {
		return 1
	}
	return min(left, 1+r.IntN(19))
}

// oneBasin returns an empty region of one basin.
func oneBasin() region {
	perLon, perLat := earth.LocalScale(corner[1])
	return region{origin: []orb.Point{corner}, scale: []orb.Point{{perLon, perLat}}}
}

// growFan returns lines of 10 to 20 km that meet at one node from the east.
func growFan(r *rand.Rand, lines int) region {
	g, node := oneBasin(), orb.Point{0, 20_000}
	for i := range lines {
		angle := math.Pi * ((float64(i)+0.5)/float64(lines) - 0.5)
		long := 10_000 + 10_000*r.Float64()
		from := orb.Point{node[0] + long*math.Cos(angle), node[1] + long*math.Sin(angle)}
		g.streams = append(g.streams, stream{path: straight(from, node, 20), below: -1, lines: 1})
	}
	return g
}

// growLine returns one winding line of 300 km with a vertex every 50 m.
func growLine(r *rand.Rand, _ int) region {
	const long, step = 300_000, 50
	g := oneBasin()
	g.streams = []stream{{name: "River 1-1", path: winding(r, long/step, step), below: -1, lines: 400}}
	return g
}

// winding returns a path of so many steps to the east.
func winding(r *rand.Rand, steps int, step float64) []orb.Point {
	at, angle := orb.Point{}, 0.0
	path := []orb.Point{at}
	for range steps {
		// turned back towards the east, so that it rarely crosses itself
		angle += 0.3*r.NormFloat64() - 0.05*angle
		at = orb.Point{at[0] + step*math.Cos(angle), at[1] + step*math.Sin(angle)}
		path = append(path, at)
	}
	return path
}

// growComb returns a winding line with tributaries of 100 to 500 m on both sides, one each 75 m. Every other
// pair of them touches the line, the others end 50 m short of it: their zones run together with that of the line,
// with gaps between.
func growComb(r *rand.Rand, lines int) region {
	const step, between = 10, 75
	g := oneBasin()
	path := winding(r, max(1, (lines-1)*between/step), step)
	g.streams = []stream{{name: "River 1-1", path: path, below: -1, lines: 400}}
	for i := range lines - 1 {
		k := min(i*between/step, len(path)-2)
		end, next := path[k], path[k+1]
		aside := orb.Point{(end[1] - next[1]) / step, (next[0] - end[0]) / step}
		if i%2 == 0 {
			aside = orb.Point{-aside[0], -aside[1]}
		}
		short := float64(50 * (i / 2 % 2))
		long := short + 100 + 400*r.Float64()
		from, to := orb.Point{end[0] + long*aside[0], end[1] + long*aside[1]}, orb.Point{end[0] + short*aside[0], end[1] + short*aside[1]}
		g.streams = append(g.streams, stream{name: "River 1-1", path: straight(from, to, 10), below: 0, lines: 1})
	}
	return g
}

// growLattice returns canals between the places of a square, to the east and the south: as many as fill a
// square, at most lines. Each place but those on two sides divides the flow equally, and nearly all lie in one ring or
// another.
func growLattice(r *rand.Rand, lines int) region {
	const between = 300
	side := int(math.Sqrt(float64(lines)/2)) + 1 // 2 side (side - 1) canals, or one place less on each side
	if 2*side*(side-1) > lines {
		side--
	}
	g, at := oneBasin(), make([]orb.Point, side*side)
	for i := range at {
		// moved a little, so that no two canals run exactly on in a line
		at[i] = orb.Point{between * (float64(i%side) + 0.2*r.Float64()), between * (float64(i/side) + 0.2*r.Float64())}
	}
	toEast := make([]int, len(at)) // by place: the canal that leaves it to the east, -1 for none
	for i := len(at) - 1; i >= 0; i-- {
		toEast[i] = -1
		if i+side < len(at) {
			g.canal(at[i], at[i+side], toEast[i+side])
		}
		if i%side < side-1 {
			g.canal(at[i], at[i+1], toEast[i+1])
			toEast[i] = len(g.streams) - 1
		}
	}
	return g
}

// canal adds a canal with a vertex every 30 m or so.
func (g *region) canal(from, to orb.Point, below int) {
	g.streams = append(g.streams, stream{name: "Canals", path: straight(from, to, 10), below: below, lines: 9})
}

// growSouth returns one line of 300 km that runs due south.
func growSouth(*rand.Rand, int) region {
	g := oneBasin()
	g.streams = []stream{{name: "River 1-1", path: straight(orb.Point{0, 300_000}, orb.Point{}, 6000), below: -1, lines: 400}}
	return g
}

// alongSouth places a point every metre or so along that line, within 10 m of it.
func alongSouth(r *rand.Rand, g region, size int) []orb.Point {
	out := make([]orb.Point, size)
	for i := range out {
		out[i] = g.degrees(0, orb.Point{20*r.Float64() - 10, 300_000 - float64(i) - r.Float64()})
	}
	return out
}

// straight returns a path with the given number of steps.
func straight(from, to orb.Point, steps int) []orb.Point {
	path := make([]orb.Point, steps+1)
	for i := range path {
		t := float64(i) / float64(steps)
		path[i] = orb.Point{from[0] + t*(to[0]-from[0]), from[1] + t*(to[1]-from[1])}
	}
	path[steps] = to // exact to the last bit, where lines meet
	return path
}

// writeLakes writes a lake on one line in ten as GeoJSON.
func writeLakes(w io.Writer, r *rand.Rand, g region) error {
	b := []byte("{\"type\":\"FeatureCollection\",\"features\":[")
	comma := "\n"
	for i, s := range g.streams {
		if i%10 != 0 {
			continue
		}
		middle, radius, bends, phase := s.path[len(s.path)/2], 100+200*r.Float64(), float64(2+r.IntN(5)), 2*math.Pi*r.Float64()
		b = fmt.Appendf(b, `%s{"type":"Feature","properties":{"water_id":"L%07d","kind":"lake"},"geometry":{"type":"Polygon","coordinates":[[`, comma, i+1)
		comma = ",\n"
		const corners = 60
		for k := range corners + 1 {
			angle := 2 * math.Pi * float64(k%corners) / corners
			out := radius * (1 + 0.2*math.Sin(bends*angle+phase))
			at := g.degrees(s.basin, orb.Point{middle[0] + out*math.Cos(angle), middle[1] - out*math.Sin(angle)})
			if k > 0 {
				b = append(b, ',')
			}
			b = appendPosition(b, at)
		}
		b = append(b, "]]}}"...)
	}
	_, err := w.Write(append(b, "\n]}\n"...))
	return err
}
