package unit

import (
	"cmp"
	"strings"

	"driftreach/geo"
	"driftreach/internal/check"
)

type checker struct{ check.Checker[Unit] }

// compareContent orders units by name and outline.
func compareContent(a, b *Unit) int {
	return cmp.Or(strings.Compare(a.Name, b.Name), geo.CompareAreas(a.Areas, b.Areas))
}
