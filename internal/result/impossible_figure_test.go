package result

import (
	"errors"
	"math"
	"testing"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/lineage"
)

// TestGuard: an impossible figure is rejected, with its name.
func TestGuard(t *testing.T) {
	if err := Guard(region()); err != nil {
		t.Fatal(err)
	}
	if err := Guard(&Run{}); err != nil {
		t.Fatal(err)
	}
	for name, put := range map[string]func(r *Run, bad float64) (of, field string){
		"gross": func(r *Run, bad float64) (string, string) {
			r.Stands[2].Gross = geo.SquareMeters(bad)
			return "stand s2", "gross_acres"
		},
		"infested": func(r *Run, bad float64) (string, string) {
			r.Stands[2].Infested = geo.SquareMeters(bad)
			return "stand s2", "infested_acres"
		},
		"canopy": func(r *Run, bad float64) (string, string) {
			r.Stands[0].Canopy = geo.SquareMeters(bad)
			return "stand s0", "canopy_acres"
		},
		"zone": func(r *Run, bad float64) (string, string) {
			r.Stands[4].Zone.Area = geo.SquareMeters(bad)
			return "stand s4", "zone_acres"
		},
		"reach": func(r *Run, bad float64) (string, string) {
			r.Stands[4].Drift.ReachKm = geo.Kilometers(bad)
			return "stand s4", "reach_km"
		},
		"released": func(r *Run, bad float64) (string, string) {
			r.Stands[4].Drift.Released = drift.Amount(bad)
			return "stand s4", "released"
		},
		"exposure": func(r *Run, bad float64) (string, string) {
			r.Stands[4].Drift.Exposure = drift.AmountKm(bad)
			return "stand s4", "exposure"
		},
		"piece": func(r *Run, bad float64) (string, string) {
			r.Reaches[1].LengthKm = geo.Kilometers(bad)
			return "a reach of stream 2", "length_km"
		},
		"total": func(r *Run, bad float64) (string, string) {
			r.Stages = []Stage{{AtRiskKm: geo.Kilometers(bad)}}
			return "the whole batch", "reach_at_risk_km"
		},
		"absent": func(r *Run, bad float64) (string, string) {
			r.Absent = []Absent{{Known: lineage.Known{}}}
			r.Absent[0].ID, r.Absent[0].Infested = "a", geo.SquareMeters(bad)
			return "stand a", "infested_acres"
		},
	} {
		for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e22} {
			run := region()
			of, field := put(run, bad)
			var fault *FaultError
			if err := Guard(run); !errors.As(err, &fault) || fault.Of != of || fault.Field != field || fault.Hint() == "" {
				t.Errorf("%s of %g: %v", name, bad, err)
			}
		}
	}
}
