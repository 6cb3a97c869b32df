package batch

import (
	"slices"

	"driftreach/internal/control"
	"driftreach/internal/intake"
)

// treatments reads the control work done, if there are files of it. Work after
// the quarter is read and told of, and then left out.
func (r *reader) treatments(in Inputs) error {
	files, err := readAll(r, in.Treatments, role{"treatments", in.TreatmentsCRS}, intake.ReadTreatments)
	if err != nil {
		return err
	}
	r.out.WorkGiven, r.out.WorkFirst = len(files) > 0, in.firstDay(r.settings)
	all := recordsOf(files, func(f *intake.Treatments) []control.Action { return f.Actions })
	rules := control.Options{}
	if !in.Quarter.IsZero() {
		rules.End = in.Quarter.End()
	}
	accepted, findings := control.Check(all, rules)
	r.found(findings)
	for i := range files {
		n := count(accepted, func(a *control.Action) bool { return a.File == files[i].Name })
		r.file(files[i].File, "treatments", n)
	}
	r.out.Actions = slices.DeleteFunc(accepted, func(a control.Action) bool { return a.After(rules.End) })
	return nil
}
