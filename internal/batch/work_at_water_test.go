package batch_test

import (
	"context"
	"fmt"
	"maps"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/batch"
	"driftreach/internal/format"
	"driftreach/internal/host"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// workAtWaterFiles are the inputs of TestWorkAtTheWater by role, and the treatments.
func workAtWaterFiles() (files map[string]string, work string) {
	frame := earth.NewFrame(orb.Point{-30, -35})
	at := func(x, south float64) orb.Point { return frame.Inverse(orb.Point{x, -south}) }
	ring := func(corners ...orb.Point) string {
		var text []string
		for _, c := range append(corners, corners[0]) {
			p := at(c[0], c[1])
			text = append(text, fmt.Sprintf("[%.9f,%.9f]", p[0], p[1]))
		}
		return "[[" + strings.Join(text, ",") + "]]"
	}
	box := func(x0, y0, x1, y1 float64) string {
		return ring(orb.Point{x0, y0}, orb.Point{x1, y0}, orb.Point{x1, y1}, orb.Point{x0, y1})
	}
	top, end := at(0, 0), at(0, 10_000)
	files = map[string]string{
		"streams": fmt.Sprintf(`{"type":"Feature","properties":{"stream_id":"r","waterBody":"Reed Water","bankfull_width_m":10},"geometry":{"type":"LineString","coordinates":[[%.9f,%.9f],[%.9f,%.9f]]}}`, top[0], top[1], end[0], end[1]),
		"units": fmt.Sprintf(`{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"unit_id":"N"},"geometry":{"type":"Polygon","coordinates":%s}},{"type":"Feature","properties":{"unit_id":"S"},"geometry":{"type":"Polygon","coordinates":%s}}]}`,
			box(-1000, -1000, 1000, 1500), box(-1000, 1500, 1000, 12000)),
		"treatable": "stand_id,permission,months,method,owner\n2026Q3-0001,given,10-11,cut stump,N. N.\n",
	}
	points := "occurrenceID,decimalLongitude,decimalLatitude,eventDate,patch_area_m2,canopy_cover_percent,parcel\n"
	spots := [][2]float64{{20, 500}, {-20, 504}, {20, 1500}, {40, 2500}, {300, 3000}}
	for i, s := range spots {
		p := at(s[0], s[1])
		points += fmt.Sprintf("p%d,%.9f,%.9f,2026-07-02,314.159265,50,P-%d\n", i, p[0], p[1], i)
	}
	files["points"] = points
	work = `{"type":"FeatureCollection","features":[` + strings.Join([]string{
		`{"type":"Feature","properties":{"date":"2026-05-10","stand_id":"2026Q3-0001","treated_acres":0.05,"method":"foliar spray","product":"Made Up 1","amount":2,"amount_unit":"l"},"geometry":null}`,
		`{"type":"Feature","properties":{"date":"2026-08-20","stand_id":"2026Q3-0001","treated_acres":0.06,"method":"foliar spray","product":"made up 1","amount":1.5,"amount_unit":"l"},"geometry":null}`,
		`{"type":"Feature","properties":{"date":"2026-05-11","stand_id":"2026Q3-0003","treated_acres":0.04,"method":"cut stump"},"geometry":{"type":"Polygon","coordinates":` + box(5, 1480, 35, 1500) + `}}`,
		`{"type":"Feature","properties":{"date":"2026-06-12","stand_id":"2026Q3-0003","treated_acres":0.08,"method":"cut stump"},"geometry":{"type":"Polygon","coordinates":` + box(5, 1480, 35, 1520) + `}}`,
	}, ",") + "]}"
	return files, work
}

// waterWorkOf computes a batch of inputs by role, and returns the rows of its table by part,
// place, unit, period and product.
func waterWorkOf(t *testing.T, given map[string]string) map[string]map[string]result.Value {
	t.Helper()
	s := settings.Default()
	s.WaterWork.Distances, s.Stands.JoinDistance, s.Stands.MinPoints = []float64{15}, 5, 1
	in := observed.Inputs{Of: map[string]observed.Files{}, Quarter: survey.Quarter{Year: 2026, Number: 3}}
	for role, text := range given {
		name := role + map[bool]string{true: ".geojson", false: ".csv"}[text[0] == '{']
		in.Of[role] = observed.Files{Sources: []format.Source{testkit.Source(name, strings.NewReader(text))}}
	}
	seen, err := observed.Read(context.Background(), in, s, host.Host{})
	if err != nil {
		t.Fatal(err)
	}
	run, err := batch.Compute(context.Background(), seen, s, host.Host{})
	if err != nil {
		t.Fatal(err)
	}
	table, out := result.WaterWorkTable(run), map[string]map[string]result.Value{}
	for i := range table.Rows {
		row := map[string]result.Value{}
		for k, v := range table.Row(run, i, nil) {
			row[table.Fields[k].Name] = v
		}
		out[strings.TrimSpace(fmt.Sprintf("%s %s %s %s %s", row["part"], row["place"], row["unit_id"], row["period"], row["product"]))] = row
	}
	return out
}

// A straight river 10 m wide running south, its left bank to the east, the setback 30 m, and
// two units north and south of a line 1500 m down. Patches of radius 10 m (314.159 m2, 0.077632
// acres), by hand, metres east and south: one at (20, 500) and one on the right bank beside
// it, its middle 4 m farther down: 20 m of bank each, 24 m of channel, 16 m on both; one
// at (20, 1500), half in each unit; one at (40, 2500), whose middle lies 5 m out of the zone:
// a chord of 2 sqrt(10^2 - 5^2) = 17.32 m; and one at (300, 3000), away from the water. Within
// 15 m of the bank, 20 m of the centerline, lies half of a disc whose middle is 20 m off.
//
// Of work, the first stand is sprayed in May (0.05 acres) and again in August (0.06): of its
// 0.077632 acres 0.027632 are left then, so that 0.0324 are treated again, by four decimals of
// what was printed. The third's ground is drawn twice: in June its north half, in July all
// of it, half of which is new.
func TestWorkAtTheWater(t *testing.T) {
	files, work := workAtWaterFiles()
	holds := func(got map[string]map[string]result.Value, name string, want map[string]float64) {
		t.Helper()
		if got[name] == nil {
			t.Errorf("no row %q among %d", name, len(got))
			return
		}
		for column, w := range want {
			tolerance := 4e-4 // acres: the line between the units is straight in degrees, 6 cm off in metres
			if strings.HasSuffix(column, "_m") && !strings.HasPrefix(column, "acres") {
				tolerance = 0.11 // lengths are told by a tenth of a metre
			}
			if v := got[name][column].Float(); !(math.Abs(v-w) <= tolerance) {
				t.Errorf("%s: %s is %v, want %v", name, column, v, w)
			}
		}
	}

	const one = 314.159265 / 4046.8564224
	got := waterWorkOf(t, files)
	part := (100*math.Acos(-0.5) + 5*math.Sqrt(75)) / 4046.8564224 // of a disc cut 5 m beyond its middle
	holds(got, "proposed all", map[string]float64{"areas": 5, "areas_in_zone": 4, "acres": 5 * one, "zone_acres": 3*one + (one - part), "acres_within_15_m": 1.5 * one, "bank_m": 77.3, "channel_m": 61.3, "both_banks_m": 16, "shore_m": 0})
	holds(got, "proposed at water N", map[string]float64{"areas": 3, "acres": 2.5 * one, "bank_m": 50, "channel_m": 34, "both_banks_m": 16, "acres_within_15_m": 1.25 * one})
	holds(got, "proposed at water S", map[string]float64{"areas": 2, "acres": 1.5 * one, "bank_m": 27.3, "channel_m": 27.3, "both_banks_m": 0})
	holds(got, "proposed off water S", map[string]float64{"areas": 1, "acres": one, "zone_acres": 0, "bank_m": 0})
	if row := got["proposed at water N"]; row["proposed_months"].String() != "2026-10; 2026-11" || row["methods"].String() != "cut stump" || row["parcels"].String() != "P-0; P-1; P-2" || row["owners"].String() != "N. N." || row["formulation_classes"].String() != "aquatic-labelled" || row["waterBody"].String() != "Reed Water" {
		t.Errorf("in words: %v", row)
	}
	feet := got["proposed all"]
	if m := feet["bank_m"].Float(); math.Abs(feet["bank_ft"].Float()-m/0.3048) > 0.051 || math.Abs(feet["bank_mi"].Float()-m/1609.344) > 0.51e-4 {
		t.Errorf("%v m are %v ft and %v miles", m, feet["bank_ft"], feet["bank_mi"])
	}

	given := maps.Clone(files)
	given["treatments"] = work
	got = waterWorkOf(t, given)
	holds(got, "done all  2026", map[string]float64{"areas": 2, "acres": one + 0.08, "repeats": 2, "repeat_acres": 0.11 - one + 0.04, "jobs": 4})
	holds(got, "done at water N 2026-08", map[string]float64{"areas": 0, "acres": one - 0.05, "repeats": 1, "repeat_acres": 0.11 - one, "jobs": 1})
	holds(got, "done at water N 2026-06", map[string]float64{"areas": 0, "repeats": 1, "acres": 0.02, "repeat_acres": 0.02})
	holds(got, "done at water S 2026-06", map[string]float64{"areas": 0, "repeats": 1, "acres": 0.02, "repeat_acres": 0.02})
	holds(got, "product all  2026 Made Up 1", map[string]float64{"jobs": 2, "amount": 3.5})
	if got["product at water N 2026-05 Made Up 1"] == nil || len(got) < 10 {
		t.Errorf("the product of May is not told: %d rows", len(got))
	}
}
