package result

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"driftreach/geo"
	"driftreach/internal/aquatic"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/treatment"
)

// twice returns a run with a stand of the given acres now and before. It was worked on twice in a
// year, half an acre each time, without a drawn area.
func twice(now, before float64) *Run {
	run := &Run{
		Quarter: q3, AcreDecimals: 4, Centerlines: []stream.Centerline{{ID: "la", Name: "Alder Creek"}}, WorkGiven: true,
		Stands: []Stand{{Stand: stand.Stand{ID: "2026Q1-0001", Infested: acresOf(now)}, Zone: aquatic.Membership{InZone: true}, Parents: []int32{0}}},
		Previous: &Previous{Quarter: q2, Known: []lineage.Known{{Stand: stand.Stand{ID: "2026Q1-0001", Infested: acresOf(before)}, Quarter: q2}},
			Then: make([]Then, 1), Looks: make([]lineage.Look, 1), Fates: make([]lineage.Change, 1), Home: make([]int32, 1), Restated: make([]int64, 1)},
		WaterWork: &WaterWork{AtWater: 30, Fresh: []float64{math.NaN(), math.NaN()}},
	}
	for k, day := range []int{3, 20} {
		run.Treatments = append(run.Treatments, Treatment{
			Treatment: treatment.Treatment{Date: date(2026, 7, day), StandID: "2026Q1-0001", TreatedAcres: 0.5}, Key: fmt.Sprint(k), CountedIn: q3, On: []Ground{{0, -1}}, Unit: UnknownUnit,
		})
	}
	return run
}

// Acres treated twice in a year, by hand. Without a drawn area the second half acre counts as new
// ground as far as the stand has untreated ground left, by the larger of its acres now and before:
// 0.9 acres leave 0.4 for it, so 0.1 were treated twice; 0.3 acres leave none; 2 acres leave
// enough.
func TestRepeatedAcres(t *testing.T) {
	for _, c := range []struct {
		now, before  float64
		acres, again string
	}{
		{0.2, 0.9, "0.9", "0.1"}, {0.9, 0.2, "0.9", "0.1"}, {0.2, 0.3, "0.5", "0.5"}, {2, 0.1, "1", "0"}, {0.1, 2, "1", "0"}, {0.75, 0.75, "0.75", "0.25"},
	} {
		rows := said(twice(c.now, c.before), WaterWorkTable(twice(c.now, c.before)), true)
		all := rows[0]
		for _, r := range rows {
			if strings.Contains(r, "part=done | place=all") {
				all = r
			}
		}
		for _, want := range []string{"jobs=2", "repeats=1", "repeat_acres=" + c.again, "acres=" + c.acres} {
			if !strings.Contains(all+" ", " "+want+" ") {
				t.Errorf("%v acres now, %v before: %s, want %s", c.now, c.before, all, want)
			}
		}
	}
}

// An area that only touches the zone, without ground in it, does not count among the areas in the
// zone. With a hundredth of an acre there it counts, and needs a product labelled for water.
func TestAreasInTheZone(t *testing.T) {
	for zone, want := range map[float64]string{0: "areas_in_zone=0", 0.01: "areas_in_zone=1"} {
		run := twice(1, 1)
		run.WaterWork.Areas = []WaterArea{{Stand: 0, Zone: acresOf(zone)}}
		for _, r := range said(run, WaterWorkTable(run), true) {
			if !strings.Contains(r, "part=proposed") {
				continue
			}
			if !strings.Contains(r, " "+want+" ") || strings.Contains(r, "aquatic-labelled") != (zone > 0) {
				t.Errorf("%v acres in the zone: %s, want %s", zone, r, want)
			}
		}
	}
}

// A stand at exactly the set distance is at the water; a centimetre beyond it is not.
func TestAtTheWater(t *testing.T) {
	for away, want := range map[geo.Meters]WaterPlace{0: AtWater, 30: AtWater, 30.01: OffWater, geo.Meters(math.Inf(1)): OffWater} {
		run := twice(1, 1)
		run.Stands[0].Zone.WaterDistance = away
		if got := run.atWater(0); got != want {
			t.Errorf("%v m from the bank: %v, want %v", float64(away), got, want)
		}
	}
}
