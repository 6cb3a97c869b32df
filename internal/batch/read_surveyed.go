package batch

import (
	"slices"

	"driftreach/internal/intake"
	"driftreach/internal/surveyed"
)

// surveyed reads the ground walked or flown, if there are files of it. Pieces of
// other quarters are read and told of, and then left out.
func (r *reader) surveyed(in Inputs) error {
	files, err := readAll(r, in.Surveyed, role{"surveyed", in.SurveyedCRS}, intake.ReadSurveyed)
	if err != nil {
		return err
	}
	all := recordsOf(files, func(f *intake.Surveyed) []surveyed.Ground { return f.Ground })
	rules := surveyed.Options{}
	if !in.Quarter.IsZero() {
		rules.Begin, rules.End = in.firstDay(r.settings).Time(), in.Quarter.End()
	}
	accepted, findings := surveyed.Check(all, rules)
	r.found(findings)
	for i := range files {
		n := count(accepted, func(g *surveyed.Ground) bool { return g.File == files[i].Name })
		r.file(files[i].File, "surveyed", n)
	}
	r.out.SurveyedGiven = len(in.Surveyed) > 0
	r.out.Surveyed = slices.DeleteFunc(accepted, func(g surveyed.Ground) bool { return !g.During(rules.Begin, rules.End) })
	return nil
}
