package batch

import (
	"slices"

	"driftreach/internal/correction"
	"driftreach/internal/intake"
)

// corrections reads the corrections, if there are files of them. Those after the
// quarter are told of, and then left out.
func (r *reader) corrections(in Inputs) error {
	files, err := readAll(r, in.Corrections, role{"corrections", ""}, intake.ReadCorrections)
	if err != nil {
		return err
	}
	all := recordsOf(files, func(f *intake.Corrections) []correction.Correction { return f.Rows })
	rules := correction.Options{}
	if !in.Quarter.IsZero() {
		rules.End = in.Quarter.End()
	}
	accepted, findings := correction.Check(all, rules)
	r.found(findings)
	for i := range files {
		n := count(accepted, func(c *correction.Correction) bool { return c.File == files[i].Name })
		r.file(files[i].File, "corrections", n)
	}
	r.out.Corrections = slices.DeleteFunc(accepted, func(c correction.Correction) bool { return c.After(rules.End) })
	return nil
}
