package earlier

import (
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/unit"
)

// Now is the quarter that continues the previous batch, with what is compared between the two.
type Now struct {
	Quarter     survey.Quarter
	Records     survey.Records
	Centerlines []stream.Centerline
	Units       []unit.Unit
	Water       WaterSums
	Settings    settings.Settings
}
