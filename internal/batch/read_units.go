package batch

import (
	"driftreach/internal/intake"
	"driftreach/internal/unit"
)

// units reads the reporting units, if there are files of them.
func (r *reader) units(in Inputs) error {
	files, err := readAll(r, in.Units, role{"units", in.UnitsCRS}, intake.ReadUnits)
	if err != nil {
		return err
	}
	all := recordsOf(files, func(f *intake.Units) []unit.Unit { return f.Units })
	accepted, findings := unit.Check(all, unit.Options{})
	r.out.Units = accepted
	r.found(findings)
	for i := range files {
		n := 0
		for k := range accepted {
			n += accepted[k].Features(files[i].Name)
		}
		r.file(files[i].File, "units", n)
	}
	return nil
}
