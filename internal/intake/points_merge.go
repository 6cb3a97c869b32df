package intake

import (
	"slices"

	"driftreach/internal/survey"
)

// MergePoints returns the records of several files as one batch, with the sorted names of all their
// carried columns. A record has "" for the columns of the other files. The result shares memory with
// the files.
func MergePoints(files []Points) (records []survey.Record, extra []string) {
	if len(files) == 1 {
		return files[0].Records, files[0].Extra
	}
	all := 0
	for _, f := range files {
		all += len(f.Records)
	}
	extra = columnsOfAll(files)
	records = make([]survey.Record, 0, all)
	for _, f := range files {
		s := newSpreader(f.Extra, extra)
		for _, r := range f.Records {
			r.Notes = s.spread(r.Notes)
			records = append(records, r)
		}
	}
	return records, extra
}

// columnsOfAll returns the sorted names of the carried columns of all files.
func columnsOfAll(files []Points) (extra []string) {
	for _, f := range files {
		extra = append(extra, f.Extra...)
	}
	slices.Sort(extra)
	return slices.Compact(extra)
}
