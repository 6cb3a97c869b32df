package main

import (
	"errors"
	"slices"
	"testing"

	"driftreach/internal/folder"
)

// TestWhenPartsAreMadeInTurn: by hand, what is tried with a limit and an input of so many bytes, where a
// batch at once fails in some way.
func TestWhenPartsAreMadeInTurn(t *testing.T) {
	over, other := &memoryError{"too much"}, errors.New("something else")
	left := errors.Join(over, &folder.LeftError{Path: "x"})
	for _, c := range []struct {
		name         string
		limit, total int64
		once         error
		want         []bool // in turn, by try
	}{
		{"no limit", 0, 1e9, nil, []bool{false}},
		{"small", 1000, 200, nil, []bool{false}},
		{"small, and it does not fit", 1000, 200, over, []bool{false, true}},
		{"another error", 1000, 200, other, []bool{false}},
		{"something is left behind", 1000, 200, left, []bool{false}},
		{"large", 1000, 201, over, []bool{true}},
		{"as large as may be", 1000, 500, over, []bool{true}},
		{"can never fit", 1000, 501, over, []bool{false}},
	} {
		var got []bool
		err := inTurnIfNeeded(c.limit, c.total, func(inTurn bool) error {
			got = append(got, inTurn)
			if inTurn {
				return nil
			}
			return c.once
		})
		if !slices.Equal(got, c.want) || (err != nil) != (c.once != nil && !slices.Contains(c.want, true)) {
			t.Errorf("%s: tried %v, want %v; %v", c.name, got, c.want, err)
		}
	}
}
