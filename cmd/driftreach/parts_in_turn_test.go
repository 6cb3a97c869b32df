package main

import (
	"errors"
	"slices"
	"testing"

	"driftreach/internal/folder"
	"driftreach/internal/part"
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
		{"can never fit", 1000, 501, over, []bool{false}},
	} {
		var got []bool
		err := inTurnIfNeeded(c.limit, c.total, c.name == "can never fit", func(inTurn bool) error {
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

// By hand: a country of 3.14 GB in 4 GB has parts of 165 MB, which take 2 GB; less than 8 are never made.
func TestPartsInTurnFitTheLimit(t *testing.T) {
	for _, c := range []struct {
		limit, total int64
		want         int
	}{{4e9, 3140e6, 19}, {100e6, 24e6, 8}, {50e6, 27e6, 13}, {50e6, 1e12, part.Most}} {
		if got := partsInTurn(c.limit, c.total); got != c.want {
			t.Errorf("%d of %d bytes: %d parts, want %d", c.total, c.limit, got, c.want)
		}
	}
}
