package batch

import (
	"driftreach/internal/intake"
	"driftreach/internal/stream"
)

// water reads the water surfaces, if there are files of them.
func (r *reader) water(in Inputs) error {
	files, err := readAll(r, in.Water, role{"water", in.WaterCRS}, intake.ReadWater)
	if err != nil {
		return err
	}
	all := recordsOf(files, func(f *intake.Water) []stream.Surface { return f.Surfaces })
	accepted, findings := stream.CheckSurfaces(all, stream.Options{})
	r.out.Water = accepted
	r.found(findings)
	for i := range files {
		n := count(accepted, func(s *stream.Surface) bool { return s.File == files[i].Name })
		r.file(files[i].File, "water", n)
	}
	return nil
}
