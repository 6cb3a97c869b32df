package stand

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/survey"
)

// smallStand is the largest stand mapped as fully infested: at 0.1 acre or less the general
// perimeter is that of the canopy (USDA Forest Service Southwestern Region TP-R3-16-26, 2014).
const smallStand geo.Acres = 0.1

// ground is the ground of a stand, in the metres of its own frame.
type ground struct {
	frame    earth.Frame
	discs    []shape.Disc       // patches known only by area
	drawn    []orb.MultiPolygon // patches drawn as outlines, each made valid
	patches  []Patch            // by member, with measured outlines
	infested orb.MultiPolygon
}

// layGround projects a stand's patches into a frame centred on them.
func layGround(records []survey.Record, members []int32, s Settings) ground {
	positions := make([]orb.Point, len(members))
	for i, m := range members {
		positions[i] = records[m].Position
	}
	g := ground{
		frame:   earth.NewFrame(earth.Center(positions)),
		discs:   make([]shape.Disc, 0, len(members)),
		patches: make([]Patch, len(members)),
	}
	for i, m := range members {
		patch := PatchOf(records[m], s)
		if outline := records[m].Outline; outline != nil {
			valid, _ := shape.MakeValid(g.frame.Project(outline))
			patch.Area = geo.PolygonArea(valid)
			if len(valid) > 0 {
				g.drawn = append(g.drawn, valid)
			}
		} else {
			g.discs = append(g.discs, shape.DiscOfArea(g.frame.Forward(positions[i]), patch.Area))
		}
		g.patches[i] = patch
	}
	return g
}

// stepsPerDegree is the number of coordinate steps in a degree: seven decimals (RFC 7946, section
// 11.2).
const stepsPerDegree = 1e7

// written returns the footprint in degrees as written to files: on the grid of written coordinates,
// valid, and with the stand's infested area as nearly as that grid allows.
func (g *ground) written(infested geo.SquareMeters) orb.MultiPolygon {
	return shape.OnGridOfArea(g.frame.Unproject(g.infested), stepsPerDegree, float64(infested), float64(geo.PolygonArea(g.infested)))
}

// measure dissolves the patches and returns infested and gross area. Discs are measured exactly.
// The area that drawn patches add is measured on polygons, using only the discs near them.
func (l *Laid) measure() (infested, gross geo.SquareMeters) {
	l.infested, infested = l.prepared.Draw(l.rules.Chord)
	gross = l.prepared.Closing(l.rules.JoinDistance, infested)
	if l.drawn != nil {
		discs := l.infested
		drawn := l.outlines()
		l.infested = shape.Join(discs, drawn)
		infested += max(0, geo.PolygonArea(drawn)-shape.IntersectionArea(drawn, discs))
		gross += l.closedBeside(drawn, l.rules.JoinDistance)
	}
	if infested.Acres() <= smallStand || gross < infested {
		gross = infested
	}
	return infested, gross
}

// outlines returns the drawn patches as one area. There must be at least one.
func (g *ground) outlines() orb.MultiPolygon {
	if len(g.drawn) == 1 {
		return g.drawn[0]
	}
	return shape.Union(g.drawn, 1)
}

// closedBeside returns the area that drawn patches add to the general perimeter of the discs.
// Closing a place depends only on ground within the join distance, and the patches change only
// places within that distance of them. So discs farther than twice that distance do not matter.
func (g *ground) closedBeside(drawn orb.MultiPolygon, join geo.Meters) geo.SquareMeters {
	box := drawn.Bound().Pad(2 * float64(join))
	var near []shape.Disc
	for _, d := range g.discs {
		if r := float64(d.Radius); box.Pad(r).Contains(d.Center) {
			near = append(near, d)
		}
	}
	return shape.CloseBeside(near, drawn, join)
}

// canopy returns the area-weighted live canopy cover in percent.
func (g *ground) canopy() float64 {
	var area, under geo.SquareMeters
	for _, p := range g.patches {
		area += p.Area
		under += p.Canopy()
	}
	if area <= 0 {
		return 0
	}
	return min(100, float64(under/area)*100)
}

// OutlineArea returns the area of a drawn patch, with self-crossings repaired, within 1e-7 of the
// geodesic area.
func OutlineArea(outline orb.MultiPolygon) geo.SquareMeters {
	frame := earth.NewFrame(earth.Center(outline[0][0]))
	valid, _ := shape.MakeValid(frame.Project(outline))
	return geo.PolygonArea(valid)
}
