package batch

import (
	"driftreach/internal/correction"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
)

// Delivery has what is needed to write a run's deliverables.
type Delivery struct {
	Version     string                  // of the program, for the manifest
	Settings    settings.Settings       // as used
	Inputs      []mapfile.File          // as read
	Water       map[string]string       // content sums of streams, barriers and water surfaces, as observed.Quarter.WaterContent
	Corrections []correction.Correction // corrections in force in the chain
	Extras      mapfile.Extras          // files made only on request
}

// edition returns the manifest's word for the edition.
func (d Delivery) edition() string {
	if d.Extras.Public {
		return folder.Public
	}
	return ""
}
