package batch_test

import (
	"fmt"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
	"driftreach/internal/testkit/quarter"
)

// riverside maps patches of 100 m2 (radius 5.64 m) whose middles lie metres east of
// the centerline of a straight river 10 m wide and 40 km long, a kilometre apart.
func riverside(t *testing.T, set func(*settings.Settings), properties string, east ...float64) *result.Run {
	t.Helper()
	frame := earth.NewFrame(orb.Point{-30, -35})
	at := func(x, y float64) orb.Point { return frame.Inverse(orb.Point{x, y}) }
	top, end := at(0, 0), at(0, -40_000)
	streams := fmt.Sprintf(`{"type":"Feature","properties":{"stream_id":"r","bankfull_width_m":10%s},"geometry":{"type":"LineString","coordinates":[[%.9f,%.9f],[%.9f,%.9f]]}}`,
		properties, top[0], top[1], end[0], end[1])
	points := "occurrenceID,decimalLongitude,decimalLatitude,eventDate,patch_area_m2,canopy_cover_percent\n"
	for i, x := range east {
		p := at(x, -1000-1000*float64(i))
		points += fmt.Sprintf("p%02d,%.9f,%.9f,2026-08-01,100,50\n", i, p[0], p[1])
	}
	s := settings.Default()
	set(&s)
	return quarter.Answer(t, quarter.Of(survey.Quarter{Year: 2026, Number: 3}, []byte(points), []byte(streams)), s)
}

// byPoint returns the stands of a run by the index of their point.
func byPoint(run *result.Run) map[int32]*result.Stand {
	out := map[int32]*result.Stand{}
	for i := range run.Stands {
		out[run.Stands[i].Members[0]] = &run.Stands[i]
	}
	return out
}

// The edge of the zone may be off either way: a patch whose edge is 35 m from the
// bank is outside it, and inside in the quarter of the draws whose setback is above
// 35 of 20 to 40 m; one at 25 m is inside in three quarters; one at 45 m never.
func TestSetbackSpreadsBothWays(t *testing.T) {
	edge := func(away float64) float64 { return 5 + 5.6419 + away }
	stands := byPoint(riverside(t, func(*settings.Settings) {}, "", edge(35), edge(25), edge(45)))
	if s := stands[0]; s.Zone.InZone || s.Drift.ReachKm != 0 || s.ReachBand.P50 != 0 || s.ReachBand.P90 == 0 {
		t.Errorf("at 35 m: in zone %v, reach %g km, %+v", s.Zone.InZone, s.Drift.ReachKm, s.ReachBand)
	}
	if s := stands[1]; !s.Zone.InZone || s.ReachBand.P10 != 0 || s.ReachBand.P50 == 0 {
		t.Errorf("at 25 m: in zone %v, %+v", s.Zone.InZone, s.ReachBand)
	}
	if s := stands[2]; s.Zone.InZone || s.ReachBand.P90 != 0 {
		t.Errorf("at 45 m: in zone %v, %+v", s.Zone.InZone, s.ReachBand)
	}
}

// Flood is water of its own: stands up to its source width outside the zone release
// in it and in nothing else, more by its factor; left at their defaults the settings
// change nothing but how fast the water is, and a dry line carries in flood alone.
func TestFloodIsItsOwnWater(t *testing.T) {
	both := func(more func(*settings.Settings)) func(*settings.Settings) {
		return func(s *settings.Settings) {
			s.Drift.Stage, s.Drift.Draws, s.Drift.FloodFactor = settings.BothStages, 0, 1
			more(s)
		}
	}
	plain := riverside(t, both(func(*settings.Settings) {}), "", 0, 60)
	base, flood := plain.Stages[0], plain.Stages[1]
	if base.Balance != flood.Balance || base.AtRiskKm != flood.AtRiskKm {
		t.Errorf("defaults: base %+v, flood %+v", base, flood)
	}
	if a, b := plain.Reaches[0], plain.Reaches[len(plain.Reaches)/2]; a.HoursMean < 2.18*b.HoursMean || a.HoursMean > 2.19*b.HoursMean {
		t.Errorf("hours %g at base flow and %g in flood, want 10^0.34 = 2.1878 times", a.HoursMean, b.HoursMean)
	}
	wide := riverside(t, both(func(s *settings.Settings) { s.Drift.FloodSourceWidth, s.Drift.FloodRelease = 20, 3 }), "", 0, 60)
	base, flood = wide.Stages[0], wide.Stages[1]
	if base.Balance != plain.Stages[0].Balance {
		t.Errorf("flood settings changed base flow: %+v", base.Balance)
	}
	if ratio := flood.Balance.Released / base.Balance.Released; ratio < 5.999 || ratio > 6.001 {
		t.Errorf("flood releases %g times what base flow does, want two stands x 3", ratio)
	}
	if s := byPoint(wide)[1]; s.Zone.InZone || s.Drift.ReachKm != 0 || s.Flood.ReachKm == 0 {
		t.Errorf("beyond the zone: %+v", s)
	}
	if s := byPoint(wide)[0]; len(s.Drift.Reached) != 1 {
		t.Errorf("links %v, want the stand that a flood lets release a km below", s.Drift.Reached)
	}
	dry := riverside(t, both(func(*settings.Settings) {}), `,"flow_permanence":"Ephemeral"`, 0)
	if dry.Stages[0].AtRiskKm != 0 || dry.Stages[1].AtRiskKm == 0 {
		t.Errorf("dry line: %g km at base flow, %g in flood", dry.Stages[0].AtRiskKm, dry.Stages[1].AtRiskKm)
	}
	if b := dry.Stages[0].Balance; b.Settled != b.Released || b.Released == 0 {
		t.Errorf("dry line: %+v", b)
	}
}
