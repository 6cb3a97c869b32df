package batch

import (
	"driftreach/internal/intake"
	"driftreach/internal/work"
)

// works reads the planned works, if there are files of them.
func (r *reader) works(in Inputs) error {
	options, err := r.options(r.settings.Columns.Works, r.settings.Units.Works, in.Quarter)
	if err != nil {
		return err
	}
	options.CRS = in.WorksCRS
	var files []intake.File
	var all []work.Work
	for _, source := range in.Works {
		file, findings, err := intake.ReadWorks(r.watch(source), options)
		if err != nil {
			return err
		}
		files = append(files, file.File)
		all = append(all, file.Works...)
		r.out.Findings = append(r.out.Findings, findings...)
	}
	rules := work.Options{}
	if !in.Quarter.IsZero() {
		rules.Begin = in.Quarter.Begin()
	}
	accepted, findings := work.Check(all, rules)
	r.out.Works = accepted
	r.out.Findings = append(r.out.Findings, findings...)
	for _, file := range files {
		n := count(accepted, func(w *work.Work) bool { return w.File == file.Name })
		r.file(file, "works", n)
	}
	return nil
}
