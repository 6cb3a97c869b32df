package batch

import (
	"driftreach/internal/intake"
	"driftreach/internal/stream"
)

// barriers reads the barriers that are points, if there are files of them.
func (r *reader) barriers(in Inputs) error {
	files, err := readAll(r, in.Barriers, role{"barriers", in.BarriersCRS}, intake.ReadBarriers)
	if err != nil {
		return err
	}
	all := recordsOf(files, func(f *intake.Barriers) []stream.Structure { return f.Structures })
	accepted, findings := stream.CheckStructures(all, stream.Options{})
	r.out.Barriers = accepted
	r.found(findings)
	for i := range files {
		n := count(accepted, func(s *stream.Structure) bool { return s.File == files[i].Name })
		r.file(files[i].File, "barriers", n)
	}
	return nil
}

// placeBarriers puts the barriers on the streams, now that both are read.
func (r *reader) placeBarriers() {
	placed, findings := stream.PlaceStructures(r.out.Centerlines, r.out.Barriers)
	r.out.Barriers = placed
	r.found(findings)
	for i := range r.out.ColumnReports {
		if total := &r.out.Files[i]; total.Role == "barriers" {
			total.Accepted = count(placed, func(s *stream.Structure) bool { return s.File == total.Name })
			total.Rejected = total.Read - total.Accepted
		}
	}
}
