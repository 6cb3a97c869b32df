//go:build !linux

package intake

import "driftreach/internal/survey"

// inLargePages does nothing where there is no such hint.
func inLargePages([]survey.Record) {}
