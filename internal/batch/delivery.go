package batch

import (
	"driftreach/internal/correction"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
)

// Delivery says how a run's deliverables are written.
type Delivery struct {
	Version     string                  // of the program, for the manifest
	Settings    settings.Settings       // as used
	Inputs      []mapfile.File          // as read
	Water       map[string]string       // what the streams, barriers and water surfaces say, as Observed.WaterContent
	Corrections []correction.Correction // that count in the chain
	Extras      mapfile.Extras          // files made only when asked for
}

// edition is what the manifest calls what is written.
func (d Delivery) edition() string {
	if d.Extras.Public {
		return folder.Public
	}
	return ""
}
