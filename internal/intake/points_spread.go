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
	made map[survey.PackedNotes]survey.PackedNotes

	lastOld, last survey.PackedNotes // the next record often has the same
}

func newSpreader(columns, batch []string) *spreader {
	s := &spreader{to: make([]int, len(columns)), all: len(batch), same: slices.Equal(columns, batch), made: map[survey.PackedNotes]survey.PackedNotes{}}
	for i, name := range columns {
		s.to[i], _ = slices.BinarySearch(batch, name)
	}
	return s
}

func (s *spreader) spread(old survey.PackedNotes) survey.PackedNotes {
	if s.all == 0 || s.same && old.Columns() == s.all {
		return old
	}
	if s.last != "" && s.lastOld == old {
		return s.last
	}
	fresh, ok := s.made[old]
	if !ok {
		notes := old.Unpack()
		values := notes.Extra
		notes.Extra = make([]string, s.all)
		for i, v := range values {
			notes.Extra[s.to[i]] = v
		}
		if fresh = notes.Pack(); len(s.made) < mostKept {
			s.made[old] = fresh
		}
	}
	s.lastOld, s.last = old, fresh
	return fresh
}
