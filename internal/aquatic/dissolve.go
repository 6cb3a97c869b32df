package aquatic

import (
	"math"

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
// basin of any size; surfaces likewise. Where a stream runs through a surface the
// zone is that of the surface. Cost is near linear in vertices, spread over the workers.
func (w *Water) Dissolve(workers int) []Zone {
	bodies := w.bodies()
	parts := make([][]orb.MultiPolygon, len(bodies))
	var tasks parallel.Group
	tasks.SetLimit(max(1, workers))
	for i := range bodies {
		b := &bodies[i]
		groups := w.apart(b.dry)
		parts[i] = make([]orb.MultiPolygon, len(groups)+len(b.surfaces))
		for k, group := range groups {
			tasks.Go(func() error {
				parts[i][k] = w.draw(group, b.middle)
				return nil
			})
		}
		for k, s := range b.surfaces {
			tasks.Go(func() error {
				parts[i][len(groups)+k] = w.around(w.net.Surfaces[s].Areas, b.middle)
				return nil
			})
		}
	}
	_ = tasks.Wait() // no task fails
	zones := make([]Zone, len(bodies))
	for i := range bodies {
		tasks.Go(func() error {
			zones[i] = w.zone(&bodies[i], parts[i])
			return nil
		})
	}
	_ = tasks.Wait()
	return zones
}

// zone puts the zone of one water body together.
func (w *Water) zone(b *body, parts []orb.MultiPolygon) Zone {
	z := Zone{WaterBody: b.name, Geometry: parts[0]}
	lines := make(map[int32]bool)
	for _, edges := range [][]int32{b.dry, b.wet} {
		for _, e := range edges {
			lines[w.net.Net.Edges[e].Line] = true
			z.WidthAssumed = z.WidthAssumed || w.assumed[e]
		}
	}
	z.Lines = len(lines)
	switch {
	case len(b.surfaces) > 0:
		z.Geometry = shape.Union(parts, 1)
	case len(parts) > 1:
		z.Geometry = shape.Gather(parts)
	}
	z.Area = earth.Area(z.Geometry)
	z.Geometry = shape.OnGridOfArea(z.Geometry, stepsPerDegree, float64(z.Area), func(mp orb.MultiPolygon) float64 { return float64(earth.Area(mp)) })
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

// draw draws the zone of edges that hang together, with longitudes that run on from
// middle rather than jump.
func (w *Water) draw(edges []int32, middle float64) orb.MultiPolygon {
	paths, reach := make([]orb.LineString, len(edges)), make([]geo.Meters, len(edges))
	for i, e := range edges {
		paths[i], reach[i] = w.net.Paths[e], w.reach(e)
	}
	return near(w.strips(paths, reach), middle)
}

// strips returns every place within reach of the paths: drawn in one piece where a
// frame serves them all.
func (w *Water) strips(paths []orb.LineString, reach []geo.Meters) orb.MultiPolygon {
	if compact(orb.MultiLineString(paths).Bound()) {
		return w.buffer(paths, reach)
	}
	squares := squares(paths)
	parts := make([]orb.MultiPolygon, len(squares))
	for i, square := range squares {
		own, far := make([]orb.LineString, len(square)), make([]geo.Meters, len(square))
		for k, p := range square {
			own[k], far[k] = paths[p], reach[p]
		}
		parts[i] = near(w.buffer(own, far), paths[0][0][0])
	}
	return shape.Union(parts, 1)
}

// compact says whether a box of degrees fits a square of a degree of latitude.
func compact(b orb.Bound) bool {
	lon, lat := earth.LocalScale((b.Min[1] + b.Max[1]) / 2)
	return b.Max[1]-b.Min[1] <= 1 && (b.Max[0]-b.Min[0])*lon <= lat
}

// squares groups paths by the square, a degree of latitude on a side, in which
// they begin: within one, 80 km from its middle, a frame's scale is true to
// 2e-5.
func squares(paths []orb.LineString) [][]int32 {
	at := make(map[square]int)
	var out [][]int32
	for p := range paths {
		key := squareOf(paths[p][0])
		i, met := at[key]
		if !met {
			i = len(out)
			at[key] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], int32(p))
	}
	return out
}

type square struct{ column, row int }

func squareOf(p orb.Point) square {
	row := math.Floor(p[1])
	lon, lat := earth.LocalScale(row + 0.5)
	return square{int(math.Floor(p[0] * lon / lat)), int(row)}
}

// buffer draws the strips about paths near each other.
func (w *Water) buffer(paths []orb.LineString, reach []geo.Meters) orb.MultiPolygon {
	var ends []orb.Point
	for _, path := range paths {
		ends = append(ends, path[0], path[len(path)-1])
	}
	frame := earth.NewFrame(earth.Center(ends))
	lines := make([]orb.LineString, len(paths))
	for i, path := range paths {
		lines[i] = frame.ProjectLine(path)
	}
	return frame.Unproject(shape.DrawLines(lines, reach, w.chord, 1))
}

// near returns a shape turned by the multiple of 360 degrees that brings it nearest a
// longitude. It changes the shape itself.
func near(mp orb.MultiPolygon, middle float64) orb.MultiPolygon {
	if len(mp) == 0 {
		return mp
	}
	at := mp[0][0][0][0]
	if turn := at - middle - earth.Wrap(at-middle); turn != 0 {
		for _, polygon := range mp {
			for _, ring := range polygon {
				for i := range ring {
					ring[i][0] -= turn
				}
			}
		}
	}
	return mp
}
