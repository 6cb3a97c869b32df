package aquatic

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"golang.org/x/sync/errgroup"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
)

// mapSegments rounds the zone drawn on the map: at a reach of 62 m the chord
// leaves the arc by 0.3 m. Our choice: finer would only be a larger file.
const mapSegments = 8

// Dissolve returns the zone as the map shows it, one for each water body,
// sorted by name. Each centerline is buffered in a frame of its own (so that
// widths hold over a basin of any size) and the buffers are united by
// connected group. Cost is that of the buffers, spread over the workers.
func (w *Water) Dissolve(workers int) []Zone {
	bodies := w.bodies()
	zones := make([]Zone, len(bodies))
	var tasks errgroup.Group
	tasks.SetLimit(max(1, workers))
	for i, edges := range bodies {
		tasks.Go(func() error {
			zones[i] = w.dissolve(edges)
			return nil
		})
	}
	_ = tasks.Wait() // no task fails
	return zones
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

// dissolve unites the buffers of one water body.
func (w *Water) dissolve(edges []int32) Zone {
	z := Zone{WaterBody: w.name(edges[0])}
	lines := make(map[int32]bool)
	parts := make([]orb.MultiPolygon, 0, len(edges))
	middle := w.net.Paths[edges[0]][0][0]
	for _, e := range edges {
		lines[w.net.Net.Edges[e].Line] = true
		z.WidthAssumed = z.WidthAssumed || w.assumed[e]
	}
	for _, course := range w.courses(edges) {
		parts = append(parts, w.buffer(course, middle))
	}
	z.Lines = len(lines)
	z.Geometry = shape.Union(parts, 1)
	z.Area = earth.Area(z.Geometry)
	return z
}

// longestCourse keeps a course within a frame whose scale is true to 1e-6, in
// metres (18 km from its middle).
const longestCourse = 30_000

// course is a run of edges, one below the other and of one width.
type course struct {
	path  orb.LineString
	reach geo.Meters
}

// courses joins the edges of a water body, in flow order, into the longest
// runs: one buffer for many edges is cheaper than to unite many.
func (w *Water) courses(edges []int32) []course {
	free := make(map[int32]bool, len(edges))
	for _, e := range edges {
		free[e] = true
	}
	var out []course
	for _, e := range edges {
		if !free[e] {
			continue
		}
		c := course{reach: w.reach(e)}
		var length geo.Meters
		for next := e; next >= 0; next = w.below(next, free) {
			free[next] = false
			path := w.net.Paths[next]
			if length += w.net.Net.Edges[next].Length; len(c.path) > 0 && length > longestCourse {
				free[next] = true
				break
			}
			c.path = append(c.path, path[min(len(c.path), 1):]...)
		}
		out = append(out, c)
	}
	return out
}

// below returns the free edge of the same width that an edge runs on into, its
// path beginning where the edge's ends; -1 for none.
func (w *Water) below(edge int32, free map[int32]bool) int32 {
	path := w.net.Paths[edge]
	for _, d := range w.net.Net.Downstream(edge) {
		if free[d] && w.half[d] == w.half[edge] && w.net.Paths[d][0] == path[len(path)-1] {
			return d
		}
	}
	return -1
}

// buffer draws the zone of one course in degrees, with longitudes that run on
// from middle rather than jump.
func (w *Water) buffer(c course, middle float64) orb.MultiPolygon {
	frame := earth.NewFrame(earth.Center(c.path))
	around := shape.Buffer(orb.MultiLineString{frame.ProjectLine(c.path)}, c.reach, mapSegments)
	out := frame.Unproject(around)
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
