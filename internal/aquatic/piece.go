package aquatic

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
)

// Piece is a part of the zone that is drawn on its own: connected centerlines, or one surface.
// Drawing it needs nothing else of the network.
type Piece struct {
	Paths   []orb.LineString // degrees
	Reach   []geo.Meters     // by path: how far the zone extends from it
	Water   orb.MultiPolygon // of a surface: its areas, degrees
	Setback geo.Meters       // of a surface: how far the zone extends from its edge
	Middle  float64          // longitudes continue from here without a jump
	Chord   geo.Meters       // largest sagitta of the chords that draw an arc
}

// Joined is the zone of one water body.
type Joined struct {
	Area     geo.SquareMeters // ellipsoidal
	Geometry shape.OnSteps    // as in Zone
}

// Join joins the drawn pieces of one water body into its zone. It takes what was drawn over.
func Join(pieces []Piece, drawn []orb.MultiPolygon) Joined {
	return join(drawn, slices.ContainsFunc(pieces, func(p Piece) bool { return p.Water != nil }))
}

// join joins drawn pieces, which may overlap if some are of surfaces.
func join(drawn []orb.MultiPolygon, surfaces bool) Joined {
	all := drawn[0]
	switch {
	case surfaces:
		all = shape.Union(drawn, 1)
	case len(drawn) > 1:
		all = shape.Gather(drawn)
	}
	clear(drawn) // each drawn piece is used only once
	area := earth.Area(all)
	return Joined{area, shape.PackOnSteps(shape.OnGridOfArea(all, stepsPerDegree, float64(area), float64(area)), stepsPerDegree)}
}

// joinApart is join for pieces that cannot touch, most of which are not held at the same time.
func joinApart(pieces shape.Parts) Joined {
	geometry, area := shape.PackApart(pieces, stepsPerDegree, earth.RingArea)
	return Joined{area, geometry}
}

// Vertices returns the number of vertices it is drawn from.
func (p *Piece) Vertices() (n int) {
	for _, path := range p.Paths {
		n += len(path)
	}
	for _, polygon := range p.Water {
		for _, ring := range polygon {
			n += len(ring)
		}
	}
	return n
}

// Draw returns the zone of the piece in degrees. Centerlines are buffered together in a frame of
// their own. Where they extend over more than a degree, each degree square gets its own frame, so
// that widths are true to 1e-4 in a basin of any size. The edges of surfaces are drawn the same
// way.
func (p *Piece) Draw() orb.MultiPolygon {
	if p.Water != nil {
		return p.around()
	}
	return near(p.strips(p.Paths, p.Reach), p.Middle)
}

// strips returns all places within reach of the paths, drawn in one piece where one frame is
// enough.
func (p *Piece) strips(paths []orb.LineString, reach []geo.Meters) orb.MultiPolygon {
	if compact(orb.MultiLineString(paths).Bound()) {
		return p.buffer(paths, reach)
	}
	squares := squares(paths)
	parts := make([]orb.MultiPolygon, len(squares))
	for i, square := range squares {
		own, far := make([]orb.LineString, len(square)), make([]geo.Meters, len(square))
		for k, at := range square {
			own[k], far[k] = paths[at], reach[at]
		}
		parts[i] = near(p.buffer(own, far), paths[0][0][0])
	}
	return joinAll(parts)
}

// joinAll returns the union of parts, half by half, so that each is gone through few times.
func joinAll(parts []orb.MultiPolygon) orb.MultiPolygon {
	if n := len(parts); n > 1 {
		return shape.Join(joinAll(parts[:n/2]), joinAll(parts[n/2:]))
	}
	return parts[0]
}

// compact says whether a box in degrees fits a square one degree of latitude wide.
func compact(b orb.Bound) bool {
	lon, lat := earth.LocalScale((b.Min[1] + b.Max[1]) / 2)
	return b.Max[1]-b.Min[1] <= 1 && (b.Max[0]-b.Min[0])*lon <= lat
}

// squares groups paths by the square in which they begin. A square is a degree of latitude on a
// side: within 80 km of its middle, a frame's scale is true to 2e-5.
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

// buffer draws the strips around paths near each other.
func (p *Piece) buffer(paths []orb.LineString, reach []geo.Meters) orb.MultiPolygon {
	var ends []orb.Point
	for _, path := range paths {
		ends = append(ends, path[0], path[len(path)-1])
	}
	frame := earth.NewFrame(earth.Center(ends))
	lines := make([]orb.LineString, len(paths))
	for i, path := range paths {
		lines[i] = frame.ProjectLine(path)
	}
	return frame.Unproject(shape.DrawLines(lines, reach, p.Chord, 1))
}

// near moves a shape by the multiple of 360 degrees that brings it nearest to a longitude. It
// changes the shape itself.
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

// around returns all places on the water or within the setback of its edge.
func (p *Piece) around() orb.MultiPolygon {
	out := near(p.Water.Clone(), p.Middle)
	if p.Setback == 0 {
		return out
	}
	var shore []orb.LineString
	for _, polygon := range p.Water {
		for _, ring := range polygon {
			shore = appendStretches(shore, orb.LineString(ring))
		}
	}
	reach := make([]geo.Meters, len(shore))
	for i := range reach {
		reach[i] = p.Setback
	}
	return shape.Union([]orb.MultiPolygon{out, near(p.strips(shore, reach), p.Middle)}, 1)
}

// appendStretches appends a path, cut where it enters another degree square.
func appendStretches(out []orb.LineString, path orb.LineString) []orb.LineString {
	if compact(path.Bound()) {
		return append(out, path)
	}
	from := 0
	for i := 1; i < len(path)-1; i++ {
		if squareOf(path[i]) != squareOf(path[from]) {
			out, from = append(out, path[from:i+1]), i
		}
	}
	return append(out, path[from:])
}
