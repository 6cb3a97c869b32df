package public

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
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

// km is the grid of 1 km, with places by kilometres in its plane.
var km = grid{earth.NewEqualAreaCylinder(), 1000}

func at(x, y float64) orb.Point { return km.plane.Inverse(orb.Point{1000 * x, 1000 * y}) }

// box is a rectangle by kilometres in the plane.
func box(west, south, east, north float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{at(west, south), at(east, south), at(east, north), at(west, north), at(west, south)}}}
}

// inPlane gives places in kilometres of the plane, to the centimetre.
func inPlane(path ...orb.Point) string {
	out := ""
	for _, p := range path {
		xy := km.to(p)
		out += fmt.Sprintf("(%.5g %.5g)", math.Round(1e5*xy[0])/1e5, math.Round(1e5*xy[1])/1e5)
	}
	return out
}

// covers checks that an area is just some squares, given by the corner nearest to the origin.
func covers(t *testing.T, what string, area orb.MultiPolygon, squares ...[2]float64) {
	t.Helper()
	if got := float64(earth.Area(area)) / 1e6; math.Abs(got-float64(len(squares))) > 1e-6 {
		t.Errorf("%s: %.7f km2, want %d squares", what, got, len(squares))
	}
	bound := area.Bound()
	for _, s := range squares {
		if middle := at(s[0]+0.5, s[1]+0.5); !bound.Contains(middle) {
			t.Errorf("%s: no square at %v", what, s)
		}
	}
}

// Places and lines by hand: the middle of the square, also south and west of the origin and beside the
// antimeridian; a position that is none stays.
func TestPlacesByHand(t *testing.T) {
	for _, tt := range []struct{ from, want orb.Point }{
		{orb.Point{10.1, 20.9}, orb.Point{10.5, 20.5}}, {orb.Point{-0.1, -0.1}, orb.Point{-0.5, -0.5}}, {orb.Point{10.5, 20.5}, orb.Point{10.5, 20.5}}, {orb.Point{0.001, 2999.5}, orb.Point{0.5, 2999.5}},
	} {
		if got := km.place(at(tt.from[0], tt.from[1])); inPlane(got) != inPlane(at(tt.want[0], tt.want[1])) {
			t.Errorf("%v: %s, want %v", tt.from, inPlane(got), tt.want)
		}
	}
	nan := math.NaN()
	for _, p := range []orb.Point{{nan, nan}, {nan, 3}, {999, 1}, {1, 91}} {
		if got := km.place(p); fmt.Sprint(got) != fmt.Sprint(p) {
			t.Errorf("%v became %v", p, got)
		}
	}
	if got := km.place(orb.Point{179.9999, 10}); got[0] < -180 || got[0] >= 180 || math.Abs(math.Abs(got[0])-180) > 0.01 {
		t.Errorf("beside the antimeridian: %v", got)
	}
	for _, tt := range []struct {
		path orb.LineString
		want orb.LineString
	}{
		{orb.LineString{at(1.1, 1.1), at(1.9, 1.9), at(2.1, 1.9), at(2.2, 1.5), at(1.5, 1.5)}, orb.LineString{at(1.5, 1.5), at(2.5, 1.5), at(1.5, 1.5)}},
		{nil, nil},
	} {
		if got := km.line(tt.path); inPlane(got...) != inPlane(tt.want...) {
			t.Errorf("%s became %s, want %s", inPlane(tt.path...), inPlane(got...), inPlane(tt.want...))
		}
	}
	if one := km.line(orb.LineString{at(1.1, 1.1), at(1.2, 1.2)}); len(one) != 2 || inPlane(one[0]) != inPlane(at(1.5, 1.5)) {
		t.Errorf("in one square: %s", inPlane(one...))
	}
	for k, want := range map[geo.Kilometers]geo.Kilometers{0: 0, 0.2: 1, 1.4: 1, 1.6: 2, 40.5: 41} {
		if got := km.km(k); math.Abs(float64(got-want)) > 1e-9 {
			t.Errorf("%g km became %g", float64(k), float64(got))
		}
	}
	if got := km.km(geo.Kilometers(nan)); !math.IsNaN(float64(got)) {
		t.Errorf("unknown kilometres became %g", float64(got))
	}
	if km.shape(nil) != nil {
		t.Error("no area became one")
	}
	covers(t, "a corner of four", km.shape(box(0.99, 0.99, 1.01, 1.01)), [2]float64{0, 0}, [2]float64{1, 0}, [2]float64{0, 1}, [2]float64{1, 1})
}

// oneOfEverything is a batch with people in every text, and all its places in the square from 3, 3 to 4, 4.
func oneOfEverything() *result.Run {
	small := box(3.4, 3.4, 3.6, 3.6)
	footprint := stand.Pack(small)
	known := lineage.Known{Stand: stand.Stand{ID: "k", Center: at(3.4, 3.4), Footprint: footprint}, RiverKm: 7.6, Ruled: lineage.Ruled{Was: &footprint}}
	part := followup.Part{Share: 0.5, Cut: &followup.Cut{Ground: small, At: at(3.41, 3.42), Rest: small, RestAt: at(3.59, 3.58)}}
	return &result.Run{
		ExtraColumns: []string{"name"},
		Records:      survey.Records{Listed: []survey.Record{{ID: "jane-7", File: "jane.csv", Row: 9, Position: at(3.1, 3.2), Outline: small, Notes: survey.Notes{RecordedBy: "Jane"}.Pack(), PatchArea: 5, Detected: true}, {ID: "x", Position: at(8, 8.1)}}},
		Stands: []result.Stand{{Stand: stand.Stand{ID: "s", Center: at(3.4, 3.4), Footprint: footprint, Infested: 12}, Done: part, Drift: drift.Outcome{RiverKm: 12.4}, Flood: &drift.Outcome{RiverKm: 12.6},
			Waiting: &drift.Outcome{RiverKm: 0.3}, Treated: &drift.Outcome{RiverKm: geo.Kilometers(math.NaN())}}},
		Reaches:    []drift.Reach{{Path: orb.LineString{at(1.1, 1.1), at(1.9, 1.1), at(2.9, 1.1)}}},
		Surveyed:   lineage.PiecesOf(small, nil),
		Visits:     []result.Visit{{Row: &followup.Row{StandID: "s", Place: followup.Place{Position: at(3.4, 3.4), RiverKm: 4.4, Parcel: "Jane's field", StreamID: "c"}, Done: part}}},
		Absent:     []result.Absent{{Known: known}},
		Previous:   &result.Previous{Known: []lineage.Known{known}},
		Works:      []work.Work{{ID: "w", Kind: work.Mowing, Contact: "Jane", File: "jane.csv", Row: 2, Points: orb.MultiPoint{at(5.5, 5.5)}}},
		Notices:    []notice.Notice{{Distance: 12, Near: true}},
		Treatments: []result.Treatment{{Key: "jane", Treatment: treatment.Treatment{File: "jane.csv", Row: 3, Placed: true, Position: at(3.1, 3.9), Ground: small, Method: "spray", TreatedAcres: 2, Application: treatment.Application{Applicator: "Jane", Licence: "L", Start: "9", End: "10", Photos: "1", Product: "P"}}}, {Treatment: treatment.Treatment{Position: at(9.1, 9.1)}}},
		Stretches:  []stretch.Stretch{{ID: "c/1", Access: []string{"Jane's gate"}, StandsNear: 2}},
		Plan:       &plan.Plan{Rows: []plan.Row{{At: at(3.4, 3.4), Cost: 5}}, Held: []plan.Held{{Why: "refused by Jane"}, {Why: plan.NotLookedAt + "2025Q1"}}},
		Findings:   []check.Finding{{Rule: check.Rule{Code: "c", Remedy: "r"}, File: "jane.csv", Record: "jane-7", Field: "f", Value: "Jane", Message: "Jane said", Position: &orb.Point{1, 1}}},
		Events:     []result.Event{{}}, Quarter: survey.Quarter{Year: 2026, Number: 3}, Setback: 30,
	}
}

// The whole edition of a batch with one of everything, by hand. The batch itself stays as it is.
func TestEditionByHand(t *testing.T) {
	run := oneOfEverything()
	before := fmt.Sprintf("%+v %+v %+v %+v", run, run.Plan, run.Previous, run.Records.Listed[0].Notes)
	out := Edition(run, 1000)

	if out.Coarse != 1000 || out.ExtraColumns != nil || out.Events != nil || out.Quarter != run.Quarter || out.Setback != 30 {
		t.Errorf("%v %v %v", out.Coarse, out.ExtraColumns, out.Events)
	}
	want := []survey.Record{{ID: "1", Position: at(3.5, 3.5), PatchArea: 5, Detected: true}, {ID: "2", Position: at(8.5, 8.5)}}
	if diff := cmp.Diff(want, out.Records.Listed, cmpopts.EquateApprox(0, 1e-9)); diff != "" {
		t.Errorf("records (-want +got):\n%s", diff)
	}
	s := out.Stands[0]
	if s.ID != "s" || s.Infested != 12 || inPlane(s.Center) != "(3.5 3.5)" || s.Drift.RiverKm != 12 || s.Flood.RiverKm != 13 || s.Waiting.RiverKm != 1 || !math.IsNaN(float64(s.Treated.RiverKm)) {
		t.Errorf("%+v", s)
	}
	covers(t, "footprint", s.Footprint.Polygons(), [2]float64{3, 3})
	for what, p := range map[string]followup.Part{"stand": s.Done, "visit": out.Visits[0].Done} {
		covers(t, what+", ground", p.Cut.Ground, [2]float64{3, 3})
		covers(t, what+", rest", p.Cut.Rest, [2]float64{3, 3})
		if inPlane(p.Cut.At, p.Cut.RestAt) != "(3.5 3.5)(3.5 3.5)" || p.Share != 0.5 {
			t.Errorf("%s: %s", what, inPlane(p.Cut.At, p.Cut.RestAt))
		}
	}
	if got := inPlane(out.Reaches[0].Path...); got != "(1.5 1.5)(2.5 1.5)" {
		t.Errorf("reach %s", got)
	}
	covers(t, "surveyed", out.Surveyed.All(), [2]float64{3, 3})
	if p := out.Visits[0].Place; inPlane(p.Position) != "(3.5 3.5)" || p.Parcel != "" || p.RiverKm != 4 || p.StreamID != "c" {
		t.Errorf("visit %+v", p)
	}
	for what, k := range map[string]lineage.Known{"absent": out.Absent[0].Known, "previous": out.Previous.Known[0]} {
		covers(t, what, k.Footprint.Polygons(), [2]float64{3, 3})
		if inPlane(k.Center) != "(3.5 3.5)" || k.RiverKm != 8 || k.Was != nil || k.ID != "k" {
			t.Errorf("%s: %+v", what, k)
		}
	}
	covers(t, "work", out.Works[0].Areas, [2]float64{5, 5})
	if w := out.Works[0]; w.Contact != "" || w.File != "" || w.Points != nil || !math.IsNaN(float64(out.Notices[0].Distance)) || !out.Notices[0].Near {
		t.Errorf("%+v, %+v", w, out.Notices[0])
	}
	a, b := out.Treatments[0], out.Treatments[1]
	covers(t, "treated ground", a.Ground, [2]float64{3, 3})
	if inPlane(a.Position) != "(3.5 3.5)" || a.Key+a.File+a.Applicator+a.Licence+a.Start+a.End+a.Photos != "" || a.Row != 0 || a.Method != "spray" || a.Product != "P" || a.TreatedAcres != 2 || b.Position != at(9.1, 9.1) {
		t.Errorf("%+v, %+v", a, b)
	}
	if out.Stretches[0].Access != nil || out.Stretches[0].StandsNear != 2 {
		t.Errorf("%+v", out.Stretches[0])
	}
	if p := out.Plan; inPlane(p.Rows[0].At) != "(3.5 3.5)" || p.Rows[0].Cost != 5 || p.Held[0].Why != leftOut || p.Held[1].Why != "not looked at since 2025Q1" {
		t.Errorf("%+v", p)
	}
	if diff := cmp.Diff([]check.Finding{{Rule: check.Rule{Code: "c", Remedy: "r"}, Message: leftOut}}, out.Findings); diff != "" {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
	if after := fmt.Sprintf("%+v %+v %+v %+v", run, run.Plan, run.Previous, run.Records.Listed[0].Notes); after != before {
		t.Error("the batch itself was changed")
	}
	if none := Edition(&result.Run{}, 500); none.Plan != nil || none.Previous != nil || none.Surveyed.Len() > 0 || none.Coarse != 500 || len(none.Records.Listed) > 0 {
		t.Errorf("of nothing: %+v", none)
	}
}

// A coarser grid moves places farther, and the same place always to the same square.
func TestEditionOfAnyGrid(t *testing.T) {
	p := at(123.4567, 765.4321)
	for _, side := range []geo.Meters{100, 1000, 5000} {
		g := grid{km.plane, float64(side)}
		q := g.place(p)
		xy, from := km.plane.Forward(q), km.plane.Forward(p)
		for axis := range 2 {
			if off := math.Abs(xy[axis] - from[axis]); off > float64(side)/2+1e-6 || math.Abs(math.Mod(xy[axis], float64(side))-float64(side)/2) > 1e-4 {
				t.Errorf("%g m: %v became %v", float64(side), from, xy)
			}
		}
		if again := g.place(q); !slices.Equal(again[:], q[:]) && earth.Distance(again, q) > 1e-3 {
			t.Errorf("%g m: %v and then %v", float64(side), q, again)
		}
	}
}
