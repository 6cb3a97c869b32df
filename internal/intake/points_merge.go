package intake

import (
	"slices"

	"driftreach/internal/survey"
)

// MergePoints returns the records of several files as one batch, with the
// names of all their carried columns, sorted; a record has "" for the columns of
// the others. It shares memory with the files.
func MergePoints(files []Points) (records []survey.Record, extra []string) {
	if len(files) == 1 {
		return files[0].Records, files[0].Extra
	}
	for _, f := range files {
		extra = append(extra, f.Extra...)
		records = slices.Grow(records, len(f.Records))
	}
	slices.Sort(extra)
	extra = slices.Compact(extra)
	for _, f := range files {
		to := make([]int, len(f.Extra))
		for i, name := range f.Extra {
			to[i], _ = slices.BinarySearch(extra, name)
		}
		for _, r := range f.Records {
			r.Extra = spread(r.Extra, to, len(extra))
			records = append(records, r)
		}
	}
	return records, extra
}

// spread puts value i at place to[i] of n.
func spread(values []string, to []int, n int) []string {
	if n == 0 {
		return nil
	}
	out := make([]string, n)
	for i, v := range values {
		out[to[i]] = v
	}
	return out
}

// sortExtra brings the carried columns into the order of their names, and
// gives every record one value for each.
func (p *Points) sortExtra() {
	if len(p.Extra) == 0 {
		return
	}
	order := slices.Clone(p.Extra)
	slices.Sort(order)
	same := slices.Equal(order, p.Extra)
	to := make([]int, len(order))
	for i, name := range p.Extra {
		to[i], _ = slices.BinarySearch(order, name)
	}
	for i := range p.Records {
		if r := &p.Records[i]; !same || len(r.Extra) < len(order) {
			r.Extra = spread(r.Extra, to, len(order))
		}
	}
	p.Extra = order
}
