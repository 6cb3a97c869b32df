package geopackage

import (
	"math"
	"testing"

	"driftreach/internal/format"
)

// TestValuesAsTexts: what SQLite stores in a column, as a text; a blob and what is no number are
// none.
func TestValuesAsTexts(t *testing.T) {
	for _, c := range []struct {
		stored any
		want   string
	}{{"reed", "reed"}, {int64(-7), "-7"}, {2.5, "2.5"}, {-1e-3, "-0.001"}, {math.NaN(), ""}, {[]byte("reed"), ""}, {nil, ""}} {
		g := &reader{Reading: &format.Reading{}}
		g.value(0, c.stored)
		if got := string(g.Layout.Text); got != c.want {
			t.Errorf("%v: %q, want %q", c.stored, got, c.want)
		}
	}
}
