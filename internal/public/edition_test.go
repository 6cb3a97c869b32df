package public

import (
	"math"
	"reflect"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/notice"
	"driftreach/internal/plan"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
	"driftreach/internal/work"
)

// ground is a square with sides of a thousandth of a degree.
func ground(lon, lat float64) orb.MultiPolygon {
	const side = 0.001
	return orb.MultiPolygon{{{{lon, lat}, {lon + side, lat}, {lon + side, lat + side}, {lon, lat + side}, {lon, lat}}}}
}

// exact is a batch in which everything has a place and people in it.
func exact() *result.Run {
	one := stand.Stand{ID: "2026Q1-0001", Center: orb.Point{10.0005, 20.0005}, Footprint: stand.Pack(ground(10, 20)), Infested: 1000}
	gone := lineage.Known{Stand: one, RiverKm: 12.345}
	run := &result.Run{
		Quarter: survey.Quarter{Year: 2026, Number: 3}, ExtraColumns: []string{"owner"}, Surveyed: lineage.PiecesOf(ground(10, 20), nil), Events: []result.Event{{UID: "u"}},
		Records: survey.Records{Listed: []survey.Record{{ID: "holm-1", File: "holm.csv", Row: 3, Position: orb.Point{10.0005, 20.0005}, Notes: survey.Notes{RecordedBy: "A. Holm"}.Pack()}}},
		Stands: []result.Stand{{
			Stand: one, Drift: drift.Outcome{RiverKm: 33.333, ReachKm: 2}, Flood: &drift.Outcome{RiverKm: 33.333},
			Waiting: &drift.Outcome{RiverKm: 0.2}, Treated: &drift.Outcome{RiverKm: geo.Kilometers(math.Inf(1))},
			Done: followup.Part{Share: 0.5, Cut: &followup.Cut{Ground: ground(10, 20), At: orb.Point{10.0002, 20.0002}, Rest: ground(10.001, 20), RestAt: orb.Point{10.0012, 20.0002}}},
		}},
		Reaches:    []drift.Reach{{Path: orb.LineString{{10, 20}, {10.05, 20}}, FromKm: 33.3, ToKm: 28.1}},
		Visits:     []result.Visit{{Row: &followup.Row{StandID: one.ID, Place: followup.Place{Position: orb.Point{10.0005, 20.0005}, Parcel: "p-7", RiverKm: 33.333}, Done: followup.Part{Cut: &followup.Cut{Ground: ground(10, 20)}}}}},
		Absent:     []result.Absent{{Known: gone}},
		Previous:   &result.Previous{Known: []lineage.Known{gone}},
		Works:      []work.Work{{ID: "w", Contact: "A. Holm", Points: orb.MultiPoint{{10, 20}}}},
		Notices:    []notice.Notice{{Distance: 12}},
		Treatments: []result.Treatment{{Key: "k", Treatment: treatment.Treatment{File: "t.csv", Row: 2, Placed: true, Position: orb.Point{10.0005, 20.0005}, Ground: ground(10, 20), TreatedAcres: 0.5, Application: treatment.Application{Product: "Reed Away", Applicator: "A. Holm", Licence: "L-9", Start: "08:00", End: "09:00", Photos: "7"}}}},
		Stretches:  []stretch.Stretch{{ID: "a/1", Access: []string{"Holm's gate"}}},
		Plan: &plan.Plan{Rows: []plan.Row{{At: orb.Point{10.0005, 20.0005}, Cost: 3}},
			Held: []plan.Held{{Why: "permission refused by A. Holm"}, {Why: plan.NotLookedAt + " since 2025"}}},
		Findings: []check.Finding{{Rule: check.Rule{Code: "no-cover"}, File: "holm.csv", Record: "holm-1", Value: "x", Message: "A. Holm wrote x", Position: &orb.Point{10, 20}}},
	}
	return run
}

// TestEditionLeavesTheBatch: the exact batch is the same after its public edition was made: the edition
// shares nothing with it that was changed.
func TestEditionLeavesTheBatch(t *testing.T) {
	run, same := exact(), exact()
	out := Edition(run, 1000)
	if !reflect.DeepEqual(run, same) {
		t.Errorf("the batch was changed: %+v", run)
	}
	if &out.Stands[0] == &run.Stands[0] || &out.Absent[0] == &run.Absent[0] || out.Previous == run.Previous || &out.Previous.Known[0] == &run.Previous.Known[0] {
		t.Error("the edition shares stands with the batch")
	}
	if &out.Visits[0] == &run.Visits[0] || &out.Treatments[0] == &run.Treatments[0] || &out.Reaches[0] == &run.Reaches[0] || &out.Plan.Rows[0] == &run.Plan.Rows[0] {
		t.Error("the edition shares rows with the batch")
	}
}

// TestEditionIsCoarse: every place is the middle of its square of 1 km, every shape is of whole
// squares, and kilometres along streams are whole steps; by hand: 33.333 is 33, 0.2 is one step.
// What is no place in a stream stays so.
func TestEditionIsCoarse(t *testing.T) {
	run := exact()
	out := Edition(run, 1000)
	g := grid{earth.NewEqualAreaCylinder(), 1000}
	for name, p := range map[string]orb.Point{
		"record": out.Records.Listed[0].Position, "stand": out.Stands[0].Center, "treated part": out.Stands[0].Done.Cut.At, "rest": out.Stands[0].Done.Cut.RestAt, "visit": out.Visits[0].Place.Position,
		"absent": out.Absent[0].Center, "known before": out.Previous.Known[0].Center, "work done": out.Treatments[0].Position, "plan": out.Plan.Rows[0].At, "reach": out.Reaches[0].Path[0],
	} {
		at := g.to(p)
		if math.Abs(at[0]-math.Floor(at[0])-0.5) > 1e-6 || math.Abs(at[1]-math.Floor(at[1])-0.5) > 1e-6 {
			t.Errorf("%s lies at %v of its square", name, at)
		}
	}
	for name, area := range map[string]orb.MultiPolygon{
		"stand": out.Stands[0].Footprint.Polygons(), "treated part": out.Stands[0].Done.Cut.Ground, "rest": out.Stands[0].Done.Cut.Rest, "visit": out.Visits[0].Done.Cut.Ground, "surveyed": out.Surveyed.All(),
		"absent": out.Absent[0].Footprint.Polygons(), "known before": out.Previous.Known[0].Footprint.Polygons(), "work done": out.Treatments[0].Ground, "planned work": out.Works[0].Areas,
	} {
		squares := float64(earth.Area(area)) / 1e6
		if squares < 0.99 || squares > 4.01 || math.Abs(squares-math.Round(squares)) > 1e-6 {
			t.Errorf("%s has %v squares", name, squares)
		}
	}
	s := out.Stands[0]
	for name, c := range map[string][2]geo.Kilometers{
		"stand": {s.Drift.RiverKm, 33}, "in flood": {s.Flood.RiverKm, 33}, "waiting": {s.Waiting.RiverKm, 1}, "visit": {out.Visits[0].Place.RiverKm, 33},
		"absent": {out.Absent[0].RiverKm, 12}, "known before": {out.Previous.Known[0].RiverKm, 12}, "reach alone": {s.Drift.ReachKm, 2},
	} {
		if c[0] != c[1] {
			t.Errorf("%s: km %v, want %v", name, c[0], c[1])
		}
	}
	if k := g.km(geo.Kilometers(math.NaN())); !math.IsNaN(float64(k)) {
		t.Errorf("no river kilometre becomes %v", k)
	}
}

// TestEditionIsWithoutPeople: what people wrote or are called is gone; acres, products and dates stay.
func TestEditionIsWithoutPeople(t *testing.T) {
	out := Edition(exact(), 1000)
	j := out.Treatments[0]
	if j.File+j.Key+j.Applicator+j.Licence+j.Start+j.End+j.Photos != "" || j.Row != 0 || j.Product != "Reed Away" || j.TreatedAcres != 0.5 {
		t.Errorf("work done: %+v", j)
	}
	f := out.Findings[0]
	if f.File+f.Record+f.Value != "" || f.Position != nil || f.Message != leftOut || f.Rule.Code != "no-cover" {
		t.Errorf("finding: %+v", f)
	}
	if held := out.Plan.Held; held[0].Why != leftOut || held[1].Why != plan.NotLookedAt+" since 2025" || out.Plan.Rows[0].Cost != 3 {
		t.Errorf("held: %+v", held)
	}
	if out.Works[0].Contact != "" || out.Stretches[0].Access != nil || out.Stretches[0].ID != "a/1" || out.Visits[0].Place.Parcel != "" || out.Events != nil {
		t.Errorf("works %+v, stretches %+v, visits %+v", out.Works, out.Stretches, out.Visits)
	}
	if !math.IsNaN(float64(out.Notices[0].Distance)) {
		t.Errorf("a distance of %v m tells where the other end is", out.Notices[0].Distance)
	}
	if out := Edition(&result.Run{}, 500); out.Plan != nil || out.Previous != nil || out.Coarse != 500 {
		t.Errorf("an empty batch: %+v", out)
	}
}
