package batch

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo/linear"
	"driftreach/internal/lineage"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// sameArea says whether the earlier batch is of the area of these streams: unless
// more than half of the stands known lie farther from every stream than a record
// may lie without a warning, which is twenty kilometres. Without stands or
// streams there is nothing to tell by.
func (e *earlier) sameArea(known []lineage.Known, streams []stream.Centerline) error {
	if len(known) == 0 || len(streams) == 0 {
		return nil
	}
	lines := make([]orb.LineString, len(streams))
	for i := range lines {
		lines[i] = streams[i].Path
	}
	far := survey.DefaultSite().Far
	near, index := linear.NewVicinity(lines, far), (*linear.Index)(nil)
	off := 0
	for k := range known {
		if near.Holds(known[k].Center) {
			continue
		}
		if index == nil { // most batches need none
			index = linear.NewIndex(lines)
		}
		if place, _ := index.Nearest(known[k].Center); place.Distance > far {
			off++
		}
	}
	if 2*off <= len(known) {
		return nil
	}
	return &PreviousError{
		fmt.Sprintf("go on from %s: it is of another area: %d of its %d stands are more than %.0f km from every stream", e.from.Name, off, len(known), far.Kilometers()),
		"name the last batch of this area with --previous, or leave it out to begin anew",
	}
}
