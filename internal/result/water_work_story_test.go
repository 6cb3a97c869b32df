package result

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/aquatic"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
)

// grains is a number of acres in the unit of shares.
func grains(acres float64) int64 { return int64(math.Round(acres * 1e10)) }

// shoreline is a run of two units with a stand of 4 acres at Alder Creek, three of them in u1; one of
// 2 acres at a stream without a name, half in either unit; and one of an acre on dry land outside of
// both. Two stands of the batch before are gone: one of 3 acres that had ground in the zone, in u1,
// and one of an acre on dry land in u2.
func shoreline() *Run {
	run := &Run{
		Quarter: q3, AcreDecimals: 4, WorkGiven: true, Units: []unit.Unit{{ID: "u1", Name: "East"}, {ID: "u2", Name: "West"}},
		Centerlines: []stream.Centerline{{ID: "la", Name: "Alder Creek"}, {ID: "lb"}},
		WaterWork:   &WaterWork{AtWater: 30},
	}
	add := func(id string, acres float64, line int32, away geo.Meters, shares ...allocate.Share) {
		run.Stands = append(run.Stands, Stand{
			Stand: stand.Stand{ID: id, Infested: acresOf(acres), Gross: acresOf(acres)}, Zone: aquatic.Membership{Line: line, WaterDistance: away, InZone: away == 0}, Shares: shares,
		})
	}
	add("creek", 4, 0, 0, allocate.Share{Unit: 0, Infested: grains(3)}, allocate.Share{Unit: 1, Infested: grains(1)})
	add("brook", 2, 1, 30, allocate.Share{Unit: 0, Infested: grains(1)}, allocate.Share{Unit: 1, Infested: grains(1)})
	add("hill", 1, 0, 300, allocate.Share{Unit: allocate.Outside, Infested: grains(1)})
	known := func(id string, acres, zone float64) lineage.Known {
		return lineage.Known{Stand: stand.Stand{ID: id, Infested: acresOf(acres)}, Zone: acresOf(zone), StreamID: "la", WaterBody: "Alder Creek"}
	}
	run.Previous = &Previous{Known: []lineage.Known{known("gone", 3, 0.5), known("gone hill", 1, 0)},
		Shares: [][]allocate.Share{{{Unit: 0, Infested: grains(3)}}, {{Unit: 1, Infested: grains(1)}}}}
	return run
}

// did adds work of a day on some stands, by their ids.
func (r *Run) did(year, month, d int, acres float64, method string, ids ...string) *Treatment {
	j := Treatment{
		Treatment: treatment.Treatment{Date: date(year, month, d), TreatedAcres: acres, Method: method, Application: treatment.Application{Amount: math.NaN(), Hours: math.NaN()}},
		Key:       fmt.Sprint(len(r.Treatments)), CountedIn: q3, Unit: UnknownUnit,
	}
	for _, id := range ids {
		for i := range r.Stands {
			if r.Stands[i].ID == id {
				j.On = append(j.On, Ground{int32(i), -1})
			}
		}
		for k := range r.Previous.Known {
			if r.Previous.Known[k].ID == id {
				j.On = append(j.On, Ground{-1, int32(k)})
			}
		}
	}
	r.Treatments = append(r.Treatments, j)
	r.WaterWork.Fresh = append(r.WaterWork.Fresh, math.NaN())
	return &r.Treatments[len(r.Treatments)-1]
}

// workSaid lists the rows of a part in the order of the file: place, unit, stream, period, method;
// areas and acres; jobs and those without acres; repeats and their acres.
func workSaid(run *Run, part WaterPart) string {
	var out []string
	for _, r := range run.waterWork() {
		if r.part != part {
			continue
		}
		out = append(out, fmt.Sprintf("%s|%s|%s|%s|%s: areas %d acres %v jobs %d untold %d repeats %d again %v",
			r.place, run.unitID(r.unit), r.water, r.period, r.method, r.areas, run.acres(r.acres), r.jobs, r.noAcres, r.repeats, run.acres(r.repeatAcres)))
	}
	return strings.Join(out, "\n")
}

func holdRows(t *testing.T, name, got, want string) {
	t.Helper()
	if d := cmp.Diff(strings.Split(strings.TrimSpace(want), "\n"), strings.Split(got, "\n")); d != "" {
		t.Errorf("%s: %s", name, d)
	}
}

// A year of work on one stand of 4 acres, three of them in u1, without drawn areas, by hand. In
// February 2 acres, in March 1: all new ground. In April 3 acres: 1 is left, 2 were treated again. The
// year before was another year, so that February began anew. Each month is divided 3 to 1.
func TestWorkOfAYear(t *testing.T) {
	run := shoreline()
	run.did(2025, 11, 3, 4, "cut stump", "creek")
	run.did(2026, 2, 10, 2, "cut stump", "creek")
	run.did(2026, 3, 5, 1, "mowing", "creek")
	run.did(2026, 4, 1, 3, "cut stump", "creek")
	holdRows(t, "a year", workSaid(run, WaterDone), `
all|||2025|: areas 1 acres 4 jobs 1 untold 0 repeats 0 again 0
at water|u1|Alder Creek|2025-11|cut stump: areas 1 acres 3 jobs 1 untold 0 repeats 0 again 0
at water|u2|Alder Creek|2025-11|cut stump: areas 1 acres 1 jobs 0 untold 0 repeats 0 again 0
all|||2026|: areas 1 acres 4 jobs 3 untold 0 repeats 2 again 2
at water|u1|Alder Creek|2026-02|cut stump: areas 1 acres 1.5 jobs 1 untold 0 repeats 0 again 0
at water|u2|Alder Creek|2026-02|cut stump: areas 1 acres 0.5 jobs 0 untold 0 repeats 0 again 0
at water|u1|Alder Creek|2026-03|mowing: areas 0 acres 0.75 jobs 1 untold 0 repeats 1 again 0
at water|u2|Alder Creek|2026-03|mowing: areas 0 acres 0.25 jobs 0 untold 0 repeats 1 again 0
at water|u1|Alder Creek|2026-04|cut stump: areas 0 acres 0.75 jobs 1 untold 0 repeats 1 again 1.5
at water|u2|Alder Creek|2026-04|cut stump: areas 0 acres 0.25 jobs 0 untold 0 repeats 1 again 0.5`)
}

// Where the work was: at a brook without a name, in two units alike, so that the job counts in the
// first; on dry land outside all units; on a stand that is gone, at the water or not, in its former
// unit or in the unit of the work's position; on no known stand, in a unit and without a position.
func TestWorkByPlace(t *testing.T) {
	run := shoreline()
	run.did(2026, 7, 1, 0.5, "", "brook")
	run.did(2026, 7, 2, 0.25, "", "hill")
	run.did(2026, 7, 3, 2, "", "gone")
	run.did(2026, 7, 4, 0.125, "", "gone").Unit = 1
	run.did(2026, 7, 5, 0.75, "", "gone hill")
	run.did(2026, 7, 6, 0.0625, "").Unit = 1
	run.did(2026, 7, 7, math.NaN(), "")
	holdRows(t, "places", workSaid(run, WaterDone), `
all|||2026|: areas 4 acres 3.6875 jobs 7 untold 1 repeats 1 again 0
at water|u1||2026-07|: areas 1 acres 0.25 jobs 1 untold 0 repeats 0 again 0
at water|u1|Alder Creek|2026-07|: areas 1 acres 2 jobs 1 untold 0 repeats 0 again 0
at water|u2||2026-07|: areas 1 acres 0.25 jobs 0 untold 0 repeats 0 again 0
at water|u2|Alder Creek|2026-07|: areas 0 acres 0.125 jobs 1 untold 0 repeats 1 again 0
off water|u2||2026-07|: areas 1 acres 0.75 jobs 1 untold 0 repeats 0 again 0
off water|||2026-07|: areas 1 acres 0.25 jobs 1 untold 0 repeats 0 again 0
not known|u2||2026-07|: areas 0 acres 0.0625 jobs 1 untold 0 repeats 0 again 0
not known|||2026-07|: areas 0 acres 0 jobs 1 untold 1 repeats 0 again 0`)
}

// One job on two stands of 4 acres and 1: its acre is divided 0.8 and 0.2, and the job counts with the
// larger. Each stand counts as an area of its own, in its first month alone.
func TestWorkOnTwoStands(t *testing.T) {
	run := shoreline()
	run.did(2026, 7, 1, 1, "", "creek", "hill")
	run.did(2026, 8, 1, 1, "", "hill", "creek")
	holdRows(t, "two stands", workSaid(run, WaterDone), `
all|||2026|: areas 2 acres 2 jobs 2 untold 0 repeats 2 again 0
at water|u1|Alder Creek|2026-07|: areas 1 acres 0.6 jobs 1 untold 0 repeats 0 again 0
at water|u2|Alder Creek|2026-07|: areas 1 acres 0.2 jobs 0 untold 0 repeats 0 again 0
off water|||2026-07|: areas 1 acres 0.2 jobs 0 untold 0 repeats 0 again 0
at water|u1|Alder Creek|2026-08|: areas 0 acres 0.6 jobs 1 untold 0 repeats 1 again 0
at water|u2|Alder Creek|2026-08|: areas 0 acres 0.2 jobs 0 untold 0 repeats 1 again 0
off water|||2026-08|: areas 0 acres 0.2 jobs 0 untold 0 repeats 1 again 0`)
}

// Where all work on a stand so far in the year has a drawn area, its fresh share decides, by hand: of 2
// acres drawn in March a quarter is fresh, so that 1.5 were treated again. Once a job without an area
// has come between, acres decide: of 4 acres 1 + 0.5 + 1 = 2.5 are counted, so that of 2 acres 1.5 are
// fresh.
func TestWorkDrawn(t *testing.T) {
	run := shoreline()
	ground := orb.MultiPolygon{square(-40, -33)[0]}
	run.did(2026, 2, 1, 1, "", "creek").Ground = ground
	run.did(2026, 3, 1, 2, "", "creek").Ground = ground
	run.WaterWork.Fresh[1] = 0.25
	run.did(2026, 4, 1, 1, "", "creek")
	run.did(2026, 5, 1, 2, "", "creek").Ground = ground
	run.WaterWork.Fresh[3] = 0.25
	var got []string
	for _, r := range run.waterWork() {
		if r.part == WaterDone && (r.place == AllWater || r.unit == 0) {
			got = append(got, fmt.Sprintf("%s %v again %v", r.period, run.acres(r.acres), run.acres(r.repeatAcres)))
		}
	}
	want := "2026 4 again 2; 2026-02 0.75 again 0; 2026-03 0.375 again 1.125; 2026-04 0.75 again 0; 2026-05 1.125 again 0.375"
	if said := strings.Join(got, "; "); said != want {
		t.Errorf("%s, want %s", said, want)
	}
}

// Work that an earlier batch listed counts on the stands that are still known, wherever these now are.
// Where none is, it stays on the stream and in the unit that were listed, and each such stand is one
// area of the year; a unit that is no more is outside.
func TestWorkTold(t *testing.T) {
	run := shoreline()
	told := func(month int, acres float64, where Place) {
		j := run.did(2026, month, 1, acres, "")
		j.Carried, j.Told = true, where
	}
	told(2, 1, Place{Stands: []string{"creek", "forgotten"}, Waters: []string{"Old Name"}, UnitIDs: []string{"u9"}})
	told(3, 0.5, Place{Stands: []string{"forgotten"}, Waters: []string{"Old Name"}, UnitIDs: []string{"u2"}})
	told(4, 0.25, Place{Stands: []string{"forgotten"}, UnitIDs: []string{"u9"}})
	told(5, 0.125, Place{Waters: []string{"Old Name"}, UnitIDs: []string{"u1"}})
	holdRows(t, "told", workSaid(run, WaterDone), `
all|||2026|: areas 2 acres 1.875 jobs 4 untold 0 repeats 1 again 0
at water|u1|Alder Creek|2026-02|: areas 1 acres 0.75 jobs 1 untold 0 repeats 0 again 0
at water|u2|Alder Creek|2026-02|: areas 1 acres 0.25 jobs 0 untold 0 repeats 0 again 0
not known|u2|Old Name|2026-03|: areas 1 acres 0.5 jobs 1 untold 0 repeats 0 again 0
not known|||2026-04|: areas 0 acres 0.25 jobs 1 untold 0 repeats 1 again 0
not known|u1|Old Name|2026-05|: areas 0 acres 0.125 jobs 1 untold 0 repeats 0 again 0`)
}

// Without units every row is of all ground, and acres that do not divide are rounded so that they add
// up: a third of an acre on each of three stands.
func TestWorkWithoutUnits(t *testing.T) {
	run := shoreline()
	run.Units, run.Previous.Shares = nil, nil
	for i := range run.Stands {
		run.Stands[i].Shares, run.Stands[i].Infested = nil, acresOf(1)
	}
	run.did(2026, 7, 1, 1, "", "creek", "brook", "hill")
	holdRows(t, "thirds", workSaid(run, WaterDone), `
all|||2026|: areas 3 acres 1 jobs 1 untold 0 repeats 0 again 0
at water|||2026-07|: areas 1 acres 0.3333 jobs 0 untold 0 repeats 0 again 0
at water||Alder Creek|2026-07|: areas 1 acres 0.3334 jobs 1 untold 0 repeats 0 again 0
off water|||2026-07|: areas 1 acres 0.3333 jobs 0 untold 0 repeats 0 again 0`)
}

// What waits for treatment, by hand: of the creek's 4 acres a quarter was treated, 3 are left, 2.25 of
// them in u1; its 0.8 acres in the zone and the acres within 7.5 and 60 m of a bank are divided as its
// ground in the zone is: 3 to 1 in u1 and u2. The brook's stand is as near as the farthest distance:
// it is at the water and has no ground in the zone.
func TestWhatWaitsByPlace(t *testing.T) {
	run := shoreline()
	run.Stands[0].Done.Share = 0.25
	run.Stands[0].Shares[0].Zone, run.Stands[0].Shares[1].Zone = grains(0.75), grains(0.25)
	run.WaterWork.Distances = []geo.Meters{7.5, 60}
	for i, w := range [][3]float64{{0.8, 1.2, 2.8}, {0, 0, 1.5}, {0, 0, 0}} {
		run.WaterWork.Areas = append(run.WaterWork.Areas, WaterArea{Stand: int32(i), Zone: acresOf(w[0]), Within: []geo.SquareMeters{acresOf(w[1]), acresOf(w[2])}})
	}
	var got []string
	for _, r := range run.waterWork() {
		got = append(got, fmt.Sprintf("%s|%s|%s: areas %d in zone %d acres %v zone %v within %v %v", r.place, run.unitID(r.unit), r.water,
			r.areas, r.zoneAreas, run.acres(r.acres), run.acres(r.zone), run.acres(r.within[0]), run.acres(r.within[1])))
	}
	holdRows(t, "proposed", strings.Join(got, "\n"), `
all||: areas 3 in zone 1 acres 6 zone 0.8 within 1.2 4.3
at water|u1|: areas 1 in zone 0 acres 1 zone 0 within 0 0.75
at water|u1|Alder Creek: areas 1 in zone 1 acres 2.25 zone 0.6 within 0.9 2.1
at water|u2|: areas 1 in zone 0 acres 1 zone 0 within 0 0.75
at water|u2|Alder Creek: areas 1 in zone 1 acres 0.75 zone 0.2 within 0.3 0.7
off water||: areas 1 in zone 0 acres 1 zone 0 within 0 0`)
	for d, name := range map[geo.Meters]string{7.5: "acres_within_7_5_m", 60: "acres_within_60_m", 100.25: "acres_within_100_25_m"} {
		if distanceColumn(d) != name {
			t.Errorf("%v m is %s, want %s", float64(d), distanceColumn(d), name)
		}
	}
	// the sums that readers see are of the rows at the water
	total := ProposedAtWater(run)
	if total.Areas != 2 || total.InZone != 1 || math.Abs(total.Acres-5) > 1e-9 || math.Abs(total.Zone-0.8) > 1e-9 || total.BankFeet != 0 {
		t.Errorf("%+v, want 2 areas, one in the zone, of 5 acres, 0.8 in the zone", total)
	}
}
