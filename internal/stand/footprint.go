package stand

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/survey"
)

// smallStand is the largest stand mapped as fully infested: at 0.1 acre or
// less the general perimeter is the canopy's own (USDA Forest Service
// Southwestern Region TP-R3-16-26, 2014).
const smallStand geo.Acres = 0.1

// ground is what a stand covers, in the metres of its own frame.
type ground struct {
	frame    earth.Frame
	discs    []shape.Disc     // patches known by area
	drawn    orb.MultiPolygon // patches drawn as outlines, made valid
	patches  []Patch          // by member, outlines measured
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
			g.drawn = append(g.drawn, valid...)
		} else {
			g.discs = append(g.discs, shape.DiscOfArea(g.frame.Forward(positions[i]), patch.Area))
		}
		g.patches[i] = patch
	}
	return g
}

// measure dissolves the patches and returns infested and gross area.
func (g *ground) measure(join geo.Meters) (infested, gross geo.SquareMeters) {
	g.infested = shape.UnionDiscs(g.discs)
	if g.drawn == nil {
		infested = geo.PolygonArea(g.infested)
		gross = shape.CloseUnion(g.discs, join, infested)
	} else {
		g.infested = shape.Union([]orb.MultiPolygon{g.infested, g.drawn}, 1)
		infested = geo.PolygonArea(g.infested)
		gross = geo.PolygonArea(shape.Closing(g.infested, join))
	}
	if infested.Acres() <= smallStand || gross < infested {
		gross = infested
	}
	return infested, gross
}

// canopy returns area-weighted live canopy cover in percent.
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

// OutlineArea returns the area of a drawn patch, self-crossings repaired,
// within 1e-7 of the geodesic.
func OutlineArea(outline orb.MultiPolygon) geo.SquareMeters {
	frame := earth.NewFrame(earth.Center(outline[0][0]))
	valid, _ := shape.MakeValid(frame.Project(outline))
	return geo.PolygonArea(valid)
}
