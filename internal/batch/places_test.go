package batch_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
	"driftreach/internal/testkit/quarter"
)

// ground lays the same small region out about a middle anywhere: a river with a
// bend, a creek that joins it at a dam, stands on both and one upland.
func ground(t *testing.T, middle orb.Point) *result.Run {
	t.Helper()
	frame := earth.NewFrame(middle)
	degrees := func(x, y float64) orb.Point {
		p := frame.Inverse(orb.Point{x, y})
		return orb.Point{earth.Wrap(p[0]), p[1]}
	}
	line := func(id, name, more string, xy ...[2]float64) string {
		places := make([]orb.Point, len(xy))
		for i, p := range xy {
			places[i] = degrees(p[0], p[1])
		}
		text, err := json.Marshal(places)
		if err != nil {
			t.Fatal(err)
		}
		return fmt.Sprintf(`{"type":"Feature","properties":{"stream_id":%q,"waterBody":%q%s},"geometry":{"type":"LineString","coordinates":%s}}`, id, name, more, text)
	}
	streams := `{"type":"FeatureCollection","features":[` + strings.Join([]string{
		line("r1", "River", "", [2]float64{-3000, 500}, [2]float64{-1000, 0}, [2]float64{0, 0}),
		line("c1", "Creek", `,"barrier":"dam"`, [2]float64{200, 2500}, [2]float64{300, 900}, [2]float64{0, 0}),
		line("r2", "River", "", [2]float64{0, 0}, [2]float64{1500, -800}, [2]float64{6000, -900}),
	}, ",") + `]}`
	points := "occurrenceID,decimalLongitude,decimalLatitude,eventDate,patch_area_m2,canopy_cover_percent\n"
	for i, xy := range [][2]float64{
		{-1200, 60}, {-1185, 70}, {-1170, 60}, {-1190, 45}, // on the river's bend
		{320, 930}, {300, 950}, // on the creek, above the dam
		{1490, -790}, {1510, -805}, {1530, -790}, {1500, -830}, // below the confluence
		{2500, 1500}, // upland
	} {
		p := degrees(xy[0], xy[1])
		points += fmt.Sprintf("p%02d,%.9f,%.9f,2026-08-%02d,%d,%d\n", i, p[0], p[1], i+1, 100+40*i, 20+5*i)
	}
	return quarter.Answer(t, quarter.Of(survey.Quarter{Year: 2026, Number: 3}, []byte(points), []byte(streams)), settings.Default())
}

// The same ground gives the same answer anywhere on earth: on the equator, far
// south, at 70 N and across the antimeridian every acre, distance, reach and
// number in the order agrees with that at 35 S. The middle of the region is at
// most 7 km from its edge, where the frame that laid it out is true to 2e-7.
func TestSameAnswerAnywhere(t *testing.T) {
	want := ground(t, orb.Point{-30, -35})
	if len(want.Stands) < 4 || want.Stages[0].Balance.Held == 0 {
		t.Fatalf("%d stands, balance %+v: the region is not what it should be", len(want.Stands), want.Stages[0].Balance)
	}
	for name, middle := range map[string]orb.Point{
		"equator": {20, 0}, "far south": {-68, -54}, "seventy north": {25, 70},
		"antimeridian": {180, -17}, "antimeridian in the north": {-179.98, 65}, "Greenwich": {0, 51},
	} {
		t.Run(name, func(t *testing.T) {
			got := ground(t, middle)
			if len(got.Stands) != len(want.Stands) || len(got.Reaches) != len(want.Reaches) {
				t.Fatalf("%d stands and %d reaches, want %d and %d", len(got.Stands), len(got.Reaches), len(want.Stands), len(want.Reaches))
			}
			for i := range want.Stands {
				g, w := &got.Stands[i], &want.Stands[i]
				if g.ID != w.ID || g.Zone.InZone != w.Zone.InZone || g.Advice.Order != w.Advice.Order {
					t.Errorf("stand %s: zone %v, order %d; want %s: %v, %d", g.ID, g.Zone.InZone, g.Advice.Order, w.ID, w.Zone.InZone, w.Advice.Order)
				}
				for figure, pair := range map[string][2]float64{
					"infested": {float64(g.Infested), float64(w.Infested)}, "gross": {float64(g.Gross), float64(w.Gross)},
					"canopy": {float64(g.Canopy), float64(w.Canopy)}, "zone": {float64(g.Zone.Area), float64(w.Zone.Area)},
					"water distance": {float64(g.Zone.WaterDistance), float64(w.Zone.WaterDistance)},
					"reach":          {float64(g.Drift.ReachKm), float64(w.Drift.ReachKm)}, "river km": {float64(g.Drift.RiverKm), float64(w.Drift.RiverKm)},
					"exposure": {float64(g.Drift.Exposure), float64(w.Drift.Exposure)}, "held": {float64(g.Drift.Held), float64(w.Drift.Held)},
				} {
					if math.Abs(pair[0]-pair[1]) > 1e-4*math.Abs(pair[1])+2e-3 {
						t.Errorf("stand %s: %s %.6f, want %.6f", g.ID, figure, pair[0], pair[1])
					}
				}
			}
			for i := range want.Zones {
				if g, w := float64(got.Zones[i].Area), float64(want.Zones[i].Area); math.Abs(g/w-1) > 1e-5 {
					t.Errorf("zone of %s: %.2f m2, want %.2f", want.Zones[i].WaterBody, g, w)
				}
			}
		})
	}
}
