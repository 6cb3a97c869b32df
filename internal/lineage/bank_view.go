package lineage

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/linear"
	"driftreach/internal/surveyed"
)

// bankReach is how far from a stream its two banks are distinguished, in metres. Our choice: a crew
// walking a bank stays within it.
const bankReach = 200

// inView says whether a crew at one place, in metres of the frame, can see another. Water too wide
// to look across on foot hides it, and so does being on a bank the crew did not survey.
func (v *viewer) inView(from, to orb.Point, g *surveyed.Ground) bool {
	if g.Bank != surveyed.BothBanks && !v.onBank(to, g.Bank) {
		return false
	}
	if g.Method != surveyed.Foot || v.evidence.Water.Paths.Len() == 0 || 2*v.widest < v.settings.Barrier {
		return true
	}
	middle := orb.Point{(from[0] + to[0]) / 2, (from[1] + to[1]) / 2}
	half := geo.Distance(from, to)/2 + v.widest
	for _, run := range v.water.Near(v.frame.Inverse(middle), half) {
		width := v.evidence.Water.Half[run.Line]
		if 2*width < v.settings.Barrier {
			continue
		}
		path := v.frame.ProjectLine(v.evidence.Water.Paths.At(int(run.Line))[run.First : run.Last+1])
		for i := 0; i+1 < len(path); i++ {
			if !crosses(from, to, path[i], path[i+1]) {
				continue
			}
			if d, _ := geo.SegmentDistance(from, path[i], path[i+1]); d > width {
				return false // the crew was on the other bank, not in the channel
			}
		}
	}
	return true
}

// onBank says whether a place is on the given bank of the nearest stream, looking downstream. Away
// from every stream it is.
func (v *viewer) onBank(xy orb.Point, bank surveyed.Bank) bool {
	nearest, left := geo.Meters(math.Inf(1)), true
	for _, run := range v.water.Near(v.frame.Inverse(xy), bankReach) {
		path := v.frame.ProjectLine(v.evidence.Water.Paths.At(int(run.Line))[run.First : run.Last+1])
		for i := 0; i+1 < len(path); i++ {
			if d, _ := geo.SegmentDistance(xy, path[i], path[i+1]); d < nearest {
				nearest, left = d, side(path[i], path[i+1], xy) >= 0
			}
		}
	}
	return math.IsInf(float64(nearest), 1) || left == (bank == surveyed.LeftBank)
}

// side is above 0 where c is left of the line from a to b.
func side(a, b, c orb.Point) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }

// crosses says whether two segments share a point.
func crosses(a, b, c, d orb.Point) bool {
	return side(a, b, c)*side(a, b, d) <= 0 && side(c, d, a)*side(c, d, b) <= 0 && a != b
}

// viewer finds how much of one known stand was seen.
type viewer struct {
	*witness
	frame    earth.Frame
	children []int32    // mapped stands it is linked to
	tall     bool       // seen as far as tall cane is found
	treated  bool       // only a survey on foot can confirm it gone
	slack    geo.Meters // added to the reach
	runs     []linear.Run
}

// witness answers queries about the survey of one quarter.
type witness struct {
	before   Before
	now      Now
	evidence Evidence
	settings Settings
	ground   *surveyedPieces // nil when no ground was supplied
	water    *linear.Index   // of the evidence's streams
	widest   geo.Meters      // largest half width of them
	finds    *patches
	absences *patches
	standOf  []int32 // by record of this quarter: its mapped stand, -1 for none
}
