package observed

import (
	"driftreach/internal/intake"
	"driftreach/internal/stream"
)

// placeBarriers places the barriers on the streams, after both have been read.
func (r *reader) placeBarriers() {
	placed, findings := stream.PlaceStructures(r.out.Centerlines, r.out.Barriers)
	r.out.Barriers = placed
	r.found(findings)
	for i := range r.out.ColumnReports {
		if total := &r.out.Files[i]; total.Role == intake.RoleBarriers {
			total.Accepted = count(placed, func(s *stream.Structure) bool { return s.File == total.Name })
			total.Rejected = total.Read - total.Accepted
		}
	}
}
