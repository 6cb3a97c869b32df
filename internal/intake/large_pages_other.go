//go:build !linux

package intake

import "driftreach/internal/survey"

// inLargePages does nothing on systems without such a hint.
func inLargePages([]survey.Record) {}
