package aquatic

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Within returns the area of a stand's ground within a distance of a bank, on the water too,
// measured like the area in the zone. If rest, in degrees, is given, only that remaining ground
// counts.
func (w *Water) Within(st *stand.Stand, records []survey.Record, s stand.Settings, rest orb.MultiPolygon, distance geo.Meters) geo.SquareMeters {
	if len(w.half) == 0 {
		return 0
	}
	other := *w
	other.setback, other.margin = distance, 0
	if rest != nil {
		frame := earth.NewFrame(st.Center)
		ground, _ := shape.MakeValid(frame.Project(rest))
		if len(ground) == 0 {
			return 0
		}
		return shape.IntersectionArea(ground, other.Around(st.Center, ground.Bound()))
	}
	v := other.view(st, records, s)
	v.near(v.radius + other.farthest + distance)
	v.measure()
	if v.bank > distance {
		return 0
	}
	return min(v.zoneArea(st.Infested), st.Infested)
}
