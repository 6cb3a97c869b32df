package aquatic

import (
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/parallel"
	"driftreach/geo/shape"
)

// stepsPerDegree is how many steps of a written coordinate make a degree: seven
// decimals (RFC 7946, section 11.2).
const stepsPerDegree = 1e7

// Dissolve returns the zone as the map shows it, one for each water body,
// sorted by name. The centerlines of a water body that hang together are
// buffered together, in a frame of their own or, where they stretch over more
// than a degree, one for each degree square, so that widths are true to 1e-4 in a
// basin of any size. Cost is near linear in vertices, spread over the workers.
func (w *Water) Dissolve(workers int) []Zone {
	bodies := w.bodies()
	parts := make([][]orb.MultiPolygon, len(bodies))
	var tasks parallel.Group
	tasks.SetLimit(max(1, workers))
	for i, edges := range bodies {
		middle := w.net.Paths[edges[0]][0][0]
		groups := w.apart(edges)
		parts[i] = make([]orb.MultiPolygon, len(groups))
		for k, group := range groups {
			tasks.Go(func() error {
				parts[i][k] = w.draw(group, middle)
				return nil
			})
		}
	}
	_ = tasks.Wait() // no task fails
	zones := make([]Zone, len(bodies))
	for i, edges := range bodies {
		tasks.Go(func() error {
			zones[i] = w.zone(edges, parts[i])
			return nil
		})
	}
	_ = tasks.Wait()
	return w.withSurfaces(zones)
}

// bodies groups the edges by the name of their water body.
func (w *Water) bodies() [][]int32 {
	edges := make([]int32, len(w.half))
	for e := range edges {
		edges[e] = int32(e)
	}
	slices.SortStableFunc(edges, func(a, b int32) int { return strings.Compare(w.name(a), w.name(b)) })
	var out [][]int32
	for i, e := range edges {
		if i == 0 || w.name(e) != w.name(edges[i-1]) {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], e)
	}
	return out
}

func (w *Water) name(edge int32) string { return w.net.Lines[w.net.Net.Edges[edge].Line].Name }

// zone puts the zone of one water body together.
func (w *Water) zone(edges []int32, parts []orb.MultiPolygon) Zone {
	z := Zone{WaterBody: w.name(edges[0])}
	lines := make(map[int32]bool)
	for _, e := range edges {
		lines[w.net.Net.Edges[e].Line] = true
		z.WidthAssumed = z.WidthAssumed || w.assumed[e]
	}
	z.Lines = len(lines)
	z.Geometry = parts[0]
	if len(parts) > 1 {
		z.Geometry = shape.Gather(parts)
	}
	if len(w.surfaces.areas) == 0 {
		z.Area = earth.Area(z.Geometry)
		z.Geometry = shape.OnGridOfArea(z.Geometry, stepsPerDegree, float64(z.Area), func(mp orb.MultiPolygon) float64 { return float64(earth.Area(mp)) })
	}
	return z
}

// apart splits edges into groups whose zones cannot touch; near the antimeridian
// it leaves them together.
func (w *Water) apart(edges []int32) [][]int32 {
	boxes := make([]orb.Bound, len(edges))
	for i, e := range edges {
		b := orb.MultiPoint(w.net.Paths[e]).Bound()
		lon, lat := earth.LocalScale(max(math.Abs(b.Min[1]), math.Abs(b.Max[1])))
		pad := float64(w.reach(e)) * padding
		x, y := pad/lon, pad/lat
		boxes[i] = orb.Bound{Min: orb.Point{b.Min[0] - x, b.Min[1] - y}, Max: orb.Point{b.Max[0] + x, b.Max[1] + y}}
		if boxes[i].Min[0] < -180 || boxes[i].Max[0] > 180 {
			return [][]int32{edges}
		}
	}
	groups := shape.Together(boxes)
	for _, group := range groups {
		for i := range group {
			group[i] = edges[group[i]]
		}
	}
	return groups
}

// padding makes room for the curve of a parallel over a reach. Our choice: far
// more than it takes below 85 degrees.
const padding = 1.01

// draw draws the zone of edges that hang together: in one piece where a frame
// serves them all.
func (w *Water) draw(edges []int32, middle float64) orb.MultiPolygon {
	if w.compact(edges) {
		return w.buffer(edges, middle)
	}
	squares := w.squares(edges)
	parts := make([]orb.MultiPolygon, len(squares))
	for i, square := range squares {
		parts[i] = w.buffer(square, middle)
	}
	return shape.Union(parts, 1)
}

// compact says whether edges lie within a square of a degree of latitude.
func (w *Water) compact(edges []int32) bool {
	b := orb.MultiPoint(w.net.Paths[edges[0]]).Bound()
	for _, e := range edges[1:] {
		b = b.Union(orb.MultiPoint(w.net.Paths[e]).Bound())
	}
	lon, lat := earth.LocalScale((b.Min[1] + b.Max[1]) / 2)
	return b.Max[1]-b.Min[1] <= 1 && (b.Max[0]-b.Min[0])*lon <= lat
}

// squares groups edges by the square, a degree of latitude on a side, in which
// they begin: within one, 80 km from its middle, a frame's scale is true to
// 2e-5.
func (w *Water) squares(edges []int32) [][]int32 {
	type square struct{ column, row int }
	at := make(map[square]int)
	var out [][]int32
	for _, e := range edges {
		p := w.net.Paths[e][0]
		row := math.Floor(p[1])
		lon, lat := earth.LocalScale(row + 0.5)
		key := square{int(math.Floor(p[0] * lon / lat)), int(row)}
		i, met := at[key]
		if !met {
			i = len(out)
			at[key] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], e)
	}
	return out
}

// buffer draws the zone of edges near each other in degrees, with longitudes
// that run on from middle rather than jump.
func (w *Water) buffer(edges []int32, middle float64) orb.MultiPolygon {
	var ends []orb.Point
	for _, e := range edges {
		path := w.net.Paths[e]
		ends = append(ends, path[0], path[len(path)-1])
	}
	frame := earth.NewFrame(earth.Center(ends))
	lines, reach := make([]orb.LineString, len(edges)), make([]geo.Meters, len(edges))
	for i, e := range edges {
		lines[i], reach[i] = frame.ProjectLine(w.net.Paths[e]), w.reach(e)
	}
	out := frame.Unproject(shape.DrawLines(lines, reach, w.chord, 1))
	if turn := wholeTurn(out, middle); turn != 0 {
		shiftLongitude(out, turn)
	}
	return out
}

// wholeTurn is the multiple of 360 degrees that brings a shape nearest middle.
func wholeTurn(mp orb.MultiPolygon, middle float64) float64 {
	at := mp[0][0][0][0]
	return at - middle - earth.Wrap(at-middle)
}

func shiftLongitude(mp orb.MultiPolygon, turn float64) {
	for _, poly := range mp {
		for _, ring := range poly {
			for i := range ring {
				ring[i][0] -= turn
			}
		}
	}
}
