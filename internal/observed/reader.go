package observed

import (
	"context"

	"driftreach/internal/check"
	"driftreach/internal/host"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
)

// reader collects what is read.
type reader struct {
	ctx      context.Context
	settings settings.Settings
	host     host.Host
	inputs   Inputs
	out      Quarter           // its findings are in told until all is read
	told     [][]check.Finding // findings of each check
	parts    []mapfile.File    // files that belong to those named, such as a Shapefile's table
}

func (r *reader) found(findings []check.Finding) { r.told = append(r.told, findings) }
