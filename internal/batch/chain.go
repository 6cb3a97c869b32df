package batch

import (
	"slices"

	"driftreach/internal/earlier"
	"driftreach/internal/observed"
)

// chainOf returns the name of a batch's chain: the previous batch's, or a new one made from its quarter
// and the content of its files.
func chainOf(in *observed.Quarter) string {
	if in.Previous != nil {
		return in.Previous.Chain
	}
	var parts []string
	for _, file := range in.Files {
		parts = append(parts, file.Role+" "+file.SHA256)
	}
	slices.Sort(parts)
	return earlier.ChainName(append(parts, in.Quarter.String())...)
}
