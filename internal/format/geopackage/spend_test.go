package geopackage

import (
	"testing"

	"driftreach/internal/format"
)

// Rows that together have more bytes than the file share their content: rows of a sound file do not.
func TestRowsHoldNoMoreThanTheFile(t *testing.T) {
	g := &reader{Reading: &format.Reading{}, size: 10}
	for i, v := range []any{"0123456789", []byte("01234567"), int64(7), "89", nil} {
		if err := g.spend([]any{v}); err != nil {
			t.Errorf("value %d: %v", i, err)
		}
	}
	if err := g.spend([]any{"x"}); err == nil {
		t.Error("21 bytes in a file of 10 are believed")
	}
}
