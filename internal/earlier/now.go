package earlier

import (
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/unit"
)

// Now is the quarter that continues the batch before, as far as the two are compared.
type Now struct {
	Quarter     survey.Quarter
	Records     []survey.Record
	Centerlines []stream.Centerline
	Units       []unit.Unit
	Water       WaterSums
	Settings    settings.Settings
}
