package drift

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// The release of a record's patch, by hand: an acre at half cover and 1 000 fragments an acre is
// 500; a share of that if treated or dead, whatever the dead canopy; a drawn patch releases by its
// drawn area.
func TestRelease(t *testing.T) {
	const acre = 4046.8564224
	frame := earth.NewFrame(orb.Point{-118, 34})
	half := math.Sqrt(2*acre) / 2 // of the side of two acres
	ring := orb.Ring{{-half, -half}, {half, -half}, {half, half}, {-half, half}, {-half, -half}}
	for i := range ring {
		ring[i] = frame.Inverse(ring[i])
	}
	drawn := orb.MultiPolygon{{ring}}
	for name, test := range map[string]struct {
		record survey.Record
		want   float64
	}{
		"untreated": {survey.Record{PatchArea: acre, Cover: 50}, 500},
		"regrowth":  {survey.Record{PatchArea: acre, Cover: 50, Status: survey.Resprout}, 500},
		"treated":   {survey.Record{PatchArea: acre, Cover: 50, Status: survey.Treated}, 50},
		"dead":      {survey.Record{PatchArea: acre, Cover: 50, Status: survey.StandingDead}, 50},
		"drawn":     {survey.Record{PatchArea: 7, Cover: 50, Outline: drawn}, 1000},
		"nothing":   {survey.Record{PatchArea: acre, Cover: 0}, 0},
	} {
		s := DefaultSettings()
		s.FragmentsPerAcre, s.TreatedRelease = 1000, 0.1
		if got := s.Release(&test.record, stand.DefaultSettings()); math.Abs(float64(got)-test.want) > 1e-5*test.want {
			t.Errorf("%s: %g fragments, want %g", name, got, test.want)
		}
	}
}
