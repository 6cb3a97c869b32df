package stream

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/check"
)

// shores returns, by line, where its path crosses the outline of a surface, in metres along the
// line as digitised.
func shores(lines []Centerline, surfaces *shape.Coverage) map[int32][]geo.Meters {
	out := map[int32][]geo.Meters{}
	var parts []shape.Part
	for i := range lines {
		path := lines[i].Path
		if lines[i].Coast {
			continue
		}
		var at geo.Meters
		last := surfaces.First(path[0])
		for k := 1; k < len(path); k++ {
			length := earth.Distance(path[k-1], path[k])
			parts = surfaces.Along(parts[:0], path[k-1], orb.Point{path[k-1][0] + earth.Wrap(path[k][0]-path[k-1][0]), path[k][1]})
			for _, p := range parts {
				if p.Area != last {
					out[int32(i)], last = append(out[int32(i)], at+geo.Meters(p.From)*length), p.Area
				}
			}
			at += length
		}
	}
	return out
}

// setSurfaces records the surface of each edge, by the edge's middle. It reports surfaces without a
// stream.
func (n *Network) setSurfaces(surfaces []Surface, coverage *shape.Coverage) []check.Finding {
	n.Surfaces, n.On = surfaces, make([]int32, n.Paths.Len())
	met := make([]bool, len(surfaces))
	for e, path := range n.Paths.All() {
		if n.On[e] = -1; len(surfaces) > 0 && len(path) > 0 {
			n.On[e] = coverage.First(halfway(path))
		}
		if s := n.On[e]; s >= 0 {
			met[s] = true
		}
	}
	var log check.Log
	for i := range surfaces {
		if s := &surfaces[i]; !met[i] {
			log.Add(surfaceKind.Finding(s, ruleSurfaceApart, "geometry", "", fmt.Sprintf("no stream runs through the %s; its zone is drawn, and what grows on it has the nearest stream", s.Kind)))
		}
	}
	return log.Findings()
}

// halfway returns the place half the way along a path.
func halfway(path orb.LineString) orb.Point {
	rest := earth.LineLength(path) / 2
	for i := 1; i < len(path); i++ {
		d := earth.Distance(path[i-1], path[i])
		if rest <= d && d > 0 {
			t := float64(rest / d)
			return orb.Point{path[i-1][0] + t*earth.Wrap(path[i][0]-path[i-1][0]), path[i-1][1] + t*(path[i][1]-path[i-1][1])}
		}
		rest -= d
	}
	return path[len(path)-1]
}
