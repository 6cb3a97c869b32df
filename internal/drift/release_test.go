package drift

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// What a record's patch releases, by hand: an acre of half cover and 1 000
// fragments an acre are 500; a share of that once it is treated or dead, whatever the
// dead one's canopy; a drawn patch releases by the area it is drawn with.
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
		if got := s.Release(&test.record, stand.DefaultSettings()); math.Abs(got-test.want) > 1e-5*test.want {
			t.Errorf("%s: %g fragments, want %g", name, got, test.want)
		}
	}
}
