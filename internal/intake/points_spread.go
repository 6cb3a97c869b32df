package intake

import (
	"slices"

	"driftreach/internal/survey"
)

// spreader gives notes a value for every carried column of the batch. Records that share notes still
// share them afterwards.
type spreader struct {
	to   []int // by column of the file: its index among those of the batch
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
