package batch

import (
	"driftreach/internal/intake"
	"driftreach/internal/work"
)

// works reads the planned works, if there are files of them.
func (r *reader) works(in Inputs) error {
	files, err := readAll(r, in.Works, role{"works", in.WorksCRS}, intake.ReadWorks)
	if err != nil {
		return err
	}
	all := recordsOf(files, func(f *intake.Works) []work.Work { return f.Works })
	rules := work.Options{}
	if !in.Quarter.IsZero() {
		rules.Begin = in.Quarter.Begin()
	}
	accepted, findings := work.Check(all, rules)
	r.out.WorksGiven, r.out.Works = len(in.Works) > 0, accepted
	r.found(findings)
	for i := range files {
		n := count(accepted, func(w *work.Work) bool { return w.File == files[i].Name })
		r.file(files[i].File, "works", n)
	}
	return nil
}
