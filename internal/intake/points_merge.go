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
	all := 0
	for _, f := range files {
		extra = append(extra, f.Extra...)
		all += len(f.Records)
	}
	slices.Sort(extra)
	extra = slices.Compact(extra)
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

// sortExtra brings the carried columns into the order of their names, and
// gives every record one value for each.
func (p *Points) sortExtra() {
	if len(p.Extra) == 0 {
		return
	}
	order := slices.Clone(p.Extra)
	slices.Sort(order)
	s := newSpreader(p.Extra, order)
	for i := range p.Records {
		p.Records[i].Notes = s.spread(p.Records[i].Notes)
	}
	p.Extra = order
}

// spreader gives notes a value for every column of a batch. Records that share
// notes go on sharing them.
type spreader struct {
	to   []int // by column of the file: its place among those of the batch
	all  int
	same bool // the file's columns are those of the batch, in their order
	made map[*survey.Notes]*survey.Notes
}

func newSpreader(columns, batch []string) *spreader {
	s := &spreader{make([]int, len(columns)), len(batch), slices.Equal(columns, batch), map[*survey.Notes]*survey.Notes{}}
	for i, name := range columns {
		s.to[i], _ = slices.BinarySearch(batch, name)
	}
	return s
}

func (s *spreader) spread(old *survey.Notes) *survey.Notes {
	if s.all == 0 || s.same && old != nil && len(old.Extra) == s.all {
		return old
	}
	if fresh, ok := s.made[old]; ok {
		return fresh
	}
	fresh := &survey.Notes{}
	if old != nil {
		*fresh = *old
	}
	values := fresh.Extra
	fresh.Extra = make([]string, s.all)
	for i, v := range values {
		fresh.Extra[s.to[i]] = v
	}
	s.made[old] = fresh
	return fresh
}
