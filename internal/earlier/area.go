package earlier

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/linear"
	"driftreach/internal/lineage"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// farAway is the distance from every stream beyond which a stand belongs to another area: twenty
// kilometres, the distance from which a record gets a warning.
func farAway() geo.Meters { return survey.DefaultSite().Far }

// sameArea returns an error if the earlier batch is of another area: more than half of its stands are
// farAway from every stream. If there are no stands or no streams, it cannot tell.
func (e *opened) sameArea(known []lineage.Known, streams []stream.Centerline) error {
	off := farFrom(pathsOf(streams), middlesOf(known))
	if 2*off <= len(known) || len(streams) == 0 {
		return nil
	}
	return &Error{
		fmt.Sprintf("the earlier batch %s: it is of another area: %d of its %d stands are more than %.0f km from every stream", e.from.Name, off, len(known), farAway().Kilometers()),
		"name the last batch of this area with --previous, or leave it out to begin anew",
	}
}

func middlesOf(known []lineage.Known) []orb.Point {
	out := make([]orb.Point, len(known))
	for i := range known {
		out[i] = known[i].Center
	}
	return out
}

func pathsOf(streams []stream.Centerline) []orb.LineString {
	lines := make([]orb.LineString, len(streams))
	for i := range lines {
		lines[i] = streams[i].Path
	}
	return lines
}

// farFrom returns how many of the places are farAway from all of the lines. A line may be a single point.
func farFrom(lines []orb.LineString, places []orb.Point) int {
	far := farAway()
	near, index := linear.NewVicinity(lines, far), (*linear.Index)(nil)
	off := 0
	for _, at := range places {
		if near.Holds(at) {
			continue
		}
		if index == nil { // most batches do not need one
			index = linear.NewIndex(lines)
		}
		if place, found := index.Nearest(at); !found || place.Distance > far {
			off++
		}
	}
	return off
}
