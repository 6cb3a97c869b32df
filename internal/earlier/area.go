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

// farAway is how far off a stand must lie to be of another area: as far as a record
// may lie from every stream without a warning, which is twenty kilometres.
func farAway() geo.Meters { return survey.DefaultSite().Far }

// sameArea says whether the earlier batch is of the area of these streams: unless
// more than half of the stands known lie farAway from every stream. Without stands or
// streams there is nothing to tell by.
func (e *opened) sameArea(known []lineage.Known, streams []stream.Centerline) error {
	off := farFrom(pathsOf(streams), known)
	if 2*off <= len(known) || len(streams) == 0 {
		return nil
	}
	return &Error{
		fmt.Sprintf("the earlier batch %s: it is of another area: %d of its %d stands are more than %.0f km from every stream", e.from.Name, off, len(known), farAway().Kilometers()),
		"name the last batch of this area with --previous, or leave it out to begin anew",
	}
}

func pathsOf(streams []stream.Centerline) []orb.LineString {
	lines := make([]orb.LineString, len(streams))
	for i := range lines {
		lines[i] = streams[i].Path
	}
	return lines
}

// farFrom returns how many stands lie farAway from every one of the lines, which may
// be single places.
func farFrom(lines []orb.LineString, known []lineage.Known) int {
	far := farAway()
	near, index := linear.NewVicinity(lines, far), (*linear.Index)(nil)
	off := 0
	for k := range known {
		if near.Holds(known[k].Center) {
			continue
		}
		if index == nil { // most batches need none
			index = linear.NewIndex(lines)
		}
		if place, found := index.Nearest(known[k].Center); !found || place.Distance > far {
			off++
		}
	}
	return off
}
