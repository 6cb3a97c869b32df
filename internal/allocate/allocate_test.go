package allocate

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/shape"
	"driftreach/internal/aquatic"
	"driftreach/internal/drift"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/unit"
)

// box is an area in degrees without vertices between its corners.
func box(west, south, east, north float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}}}
}

// square is an area in metres about a middle in degrees.
func square(middle orb.Point, west, south, east, north float64) orb.MultiPolygon {
	return earth.NewFrame(middle).Unproject(box(west, south, east, north))
}

// fullStand is a stand of a footprint that is all infested and half canopy.
func fullStand(footprint orb.MultiPolygon) stand.Stand {
	middle := footprint.Bound().Center()
	area := geo.PolygonArea(earth.NewFrame(middle).Project(footprint))
	middle[0] = earth.Wrap(middle[0])
	return stand.Stand{Footprint: stand.Pack(footprint), Center: middle, Infested: area, Gross: area, Canopy: area / 2}
}

var rules = stand.Settings{JoinDistance: 30, MinPoints: 3, DefaultPatch: 0.1, DefaultCover: 50}

// onLand is a ground without streams.
func onLand(stands ...stand.Stand) Ground {
	return Ground{Stands: stands, Zone: make([]aquatic.Membership, len(stands)), Rules: rules}
}

// coarse is the number of grains in 1e-4 acre.
const coarse = 1_000_000

// acre is the side of a square acre in metres: the root of 4046.8564224.
const acre = 63.614907

// An acre, three quarters of it east of the border of two units, at places where errors are likely.
// The unit's sides are 100 km and longer without a vertex: along the parallel at 45 degrees, the
// straight line of a metric frame would be 200 m off.
func TestAcreAcrossABorder(t *testing.T) {
	for name, m := range map[string]orb.Point{
		"equator": {20, 0}, "south": {-60, -35.2}, "forty-five north": {10, 45}, "antimeridian": {180, -17}, "its other side": {-180, -17}, "eighty-four north": {-120, 84},
	} {
		t.Run(name, func(t *testing.T) {
			meridian := []unit.Unit{{ID: "a", Areas: box(m[0]-1, m[1]-1, m[0], m[1]+1)}, {ID: "b", Areas: box(m[0], m[1]-1, m[0]+1, m[1]+1)}}
			st := fullStand(square(m, -acre/4, -acre/2, acre*3/4, acre/2))
			near(t, "meridian", NewMap(meridian).Stands(onLand(st), 1)[0], []Share{{0, 2500, 2500, 1250, 0}, {1, 7500, 7500, 3750, 0}})
			parallel := []unit.Unit{{ID: "a", Areas: box(m[0]-1, m[1]-1, m[0]+1, m[1])}, {ID: "b", Areas: box(m[0]-1, m[1], m[0]+1, m[1]+1)}}
			st = fullStand(square(m, -acre/2, -acre/4, acre/2, acre*3/4))
			near(t, "parallel", NewMap(parallel).Stands(onLand(st), 1)[0], []Share{{0, 2500, 2500, 1250, 0}, {1, 7500, 7500, 3750, 0}})
		})
	}
}

// near compares with shares given in 1e-4 acre and allows a difference of one: a footprint is
// stored to a millimetre.
func near(t *testing.T, what string, got, want []Share) {
	t.Helper()
	within := cmp.Comparer(func(a, b int64) bool { return max(a-b, b-a) <= 1.5*coarse })
	whole := slices.Clone(want)
	for k := range whole {
		s := &whole[k]
		s.Infested, s.Gross, s.Canopy, s.Zone = s.Infested*coarse, s.Gross*coarse, s.Canopy*coarse, s.Zone*coarse
	}
	if d := cmp.Diff(whole, got, within); d != "" {
		t.Errorf("%s: %s", what, d)
	}
}

// Derived by hand about one middle; units in metres from it.
func TestSharesByHand(t *testing.T) {
	m := orb.Point{-70, -33}
	at := func(id string, w, s, e, n float64) unit.Unit { return unit.Unit{ID: id, Areas: square(m, w, s, e, n)} }
	pond := unit.Unit{ID: "pond", Areas: square(m, -300, -300, 300, 300)}
	pond.Areas[0] = append(pond.Areas[0], square(m, -acre/4, -acre/4, acre/4, acre/4)[0][0])
	islands := unit.Unit{ID: "islands", Areas: append(square(m, -300, -300, -acre/4, 300), square(m, acre/4, -300, 300, 300)...)}
	one := fullStand(square(m, -acre/2, -acre/2, acre/2, acre/2))
	for _, c := range []struct {
		name  string
		units []unit.Unit
		want  []Share
	}{
		{"no units at all", nil, []Share{{Outside, 10000, 10000, 5000, 0}}},
		{"all in one", []unit.Unit{at("a", -300, -300, 300, 300)}, []Share{{0, 10000, 10000, 5000, 0}}},
		{"all outside", []unit.Unit{at("a", 100, 100, 300, 300)}, []Share{{Outside, 10000, 10000, 5000, 0}}},
		{"a gap between two", []unit.Unit{at("a", -300, -300, -acre/4, 300), at("b", acre/4, -300, 300, 300)},
			[]Share{{0, 2500, 2500, 1250, 0}, {1, 2500, 2500, 1250, 0}, {Outside, 5000, 5000, 2500, 0}}},
		{"an overlap: the smaller id has it", []unit.Unit{at("b", -300, -300, acre/4, 300), at("a", -acre/4, -300, 300, 300)},
			[]Share{{1, 7500, 7500, 3750, 0}, {0, 2500, 2500, 1250, 0}}},
		{"three that overlap and leave a corner", []unit.Unit{at("u2", -300, -300, 0, 300), at("u10", -300, -300, 300, 0), at("u1", -300, -300, 0, 0)},
			[]Share{{2, 2500, 2500, 1250, 0}, {0, 2500, 2500, 1250, 0}, {1, 2500, 2500, 1250, 0}, {Outside, 2500, 2500, 1250, 0}}},
		{"the same unit twice", []unit.Unit{at("b", -300, -300, 0, 300), at("a", -300, -300, 0, 300)},
			[]Share{{1, 5000, 5000, 2500, 0}, {Outside, 5000, 5000, 2500, 0}}},
		{"all in one, another over it later", []unit.Unit{at("a", -300, -300, 300, 300), at("b", -300, -300, 0, 300)}, []Share{{0, 10000, 10000, 5000, 0}}},
		{"all in the one of the larger id, another over half of it", []unit.Unit{at("b", -300, -300, 300, 300), at("a", -300, -300, 0, 300)}, []Share{{1, 5000, 5000, 2500, 0}, {0, 5000, 5000, 2500, 0}}},
		{"all in two, a third over half of it", []unit.Unit{at("b", -300, -300, 300, 300), at("a", -300, -300, 0, 300), at("c", -400, -400, 400, 400)}, []Share{{1, 5000, 5000, 2500, 0}, {0, 5000, 5000, 2500, 0}}},
		{"a hole", []unit.Unit{pond}, []Share{{0, 7500, 7500, 3750, 0}, {Outside, 2500, 2500, 1250, 0}}},
		{"two areas of one unit", []unit.Unit{islands}, []Share{{0, 5000, 5000, 2500, 0}, {Outside, 5000, 5000, 2500, 0}}},
		{"a sliver of a unit counts no share", []unit.Unit{at("a", -300, -300, 300, 300), at("b", acre/2-1e-6, -300, acre/2, 300)}, []Share{{0, 10000, 10000, 5000, 0}}},
	} {
		near(t, c.name, NewMap(c.units).Stands(onLand(one), 1)[0], c.want)
		infested := NewMap(c.units).Footprints([]stand.Outline{one.Footprint}, []int64{10000 * coarse}, 1)[0]
		for k := range c.want {
			c.want[k] = Share{Unit: c.want[k].Unit, Infested: c.want[k].Infested}
		}
		near(t, c.name+", infested only", infested, c.want)
	}
}

// Two half acres with 20 m between them, the border 5 m east of the first: closing fills the gap
// except for its rounded ends, and a quarter of it is on this side.
func TestGapsAreSplitWhereTheyLie(t *testing.T) {
	m := orb.Point{25, 52}
	st := fullStand(append(square(m, -acre/2-5, -acre/2, -5, acre/2), square(m, 15, -acre/2, acre/2+15, acre/2)...))
	closed := shape.Closing(earth.NewFrame(m).Project(st.Footprint.Polygons()), 30)
	st.Gross = shape.Area(closed)
	gap := float64(st.Gross-st.Infested) / 4046.8564224 * 1e4
	units := []unit.Unit{{ID: "w", Areas: square(m, -500, -500, 0, 500)}, {ID: "e", Areas: square(m, 0, -500, 500, 500)}}
	got := NewMap(units).Stands(onLand(st), 1)[0]
	// The closing is the same left and right except for the arcs at its ends, which are on a circle
	// of 15 m around the middle of the gap's ends: by hand, the segment between chords 5 m and 10 m
	// from the middle.
	arc := func(x float64) float64 { return (x*math.Sqrt(225-x*x) + 225*math.Asin(x/15)) / 2 }
	part := func(from, to float64) float64 { // of the gap, x from its middle
		return (to-from)*acre + 2*((to-from)*math.Sqrt(225-100)-(arc(to)-arc(from)))
	}
	west := part(-10, -5) / part(-10, 10)
	near(t, "gap", got, []Share{
		{1, 5000, 5000 + int64(math.Round(gap*(1-west))), 2500, 0},
		{0, 5000, 5000 + int64(math.Round(gap*west)), 2500, 0},
	})
}

// The same from the records: drawn patches are closed as drawn, whatever area their records give;
// the border runs through the middle of a gap of 20 m between two half acres, so that each side has
// half.
func TestGapsOfDrawnRecords(t *testing.T) {
	m := orb.Point{25, 52}
	west, east := square(m, -acre/2-10, -acre/2, -10, acre/2), square(m, 10, -acre/2, acre/2+10, acre/2)
	st := fullStand(append(slices.Clone(west), east...))
	st.Gross = shape.Area(shape.Closing(earth.NewFrame(m).Project(st.Footprint.Polygons()), 30))
	st.Members = []int32{0, 1}
	g := onLand(st)
	records := []survey.Record{
		{ID: "e", Position: east.Bound().Center(), Detected: true, Outline: east, PatchArea: 1}, {ID: "w", Position: west.Bound().Center(), Detected: true, Outline: west},
	}
	g.Records = survey.Records{Listed: records}
	units := []unit.Unit{{ID: "w", Areas: square(m, -500, -500, 0, 500)}, {ID: "e", Areas: square(m, 0, -500, 500, 500)}}
	half := int64(math.Round(float64(st.Gross) / 4046.8564224 * 1e4 / 2))
	near(t, "drawn", NewMap(units).Stands(g, 1)[0], []Share{{1, 5000, half, 2500, 0}, {0, 5000, half, 2500, 0}})
	// where the border runs along the western one, all of the gap lies in the east
	units = []unit.Unit{{ID: "w", Areas: square(m, -500, -500, -10, 500)}, {ID: "e", Areas: square(m, -10, -500, 500, 500)}}
	near(t, "gap in the east", NewMap(units).Stands(g, 1)[0], []Share{{1, 5000, 2*half - 5000, 2500, 0}, {0, 5000, 5000, 2500, 0}})
}

// A river along the equator, its zone 30 + 2 m on either side; an acre around it, three quarters
// east of the border. Half of the zone's part would be above the water.
func TestZoneIsSplitWhereItLies(t *testing.T) {
	m := orb.Point{20, 0}
	line := stream.Centerline{ID: "r", Path: orb.LineString{{19.9, 0}, {20.1, 0}}, BankfullWidth: 4}
	net, _ := stream.Connect([]stream.Centerline{line}, nil, nil, flow.Options{Snap: 1})
	water := aquatic.NewWater(net, aquatic.Settings{Setback: 30, WidthByOrder: []geo.Meters{2}})
	st := fullStand(square(m, -acre/4, 0, acre*3/4, acre))
	// From the water up: 32 m of the acre's side are in the zone.
	area := geo.Acres(32 / acre).SquareMeters()
	g := Ground{Stands: []stand.Stand{st}, Zone: []aquatic.Membership{{InZone: true, Area: area}}, Water: water, Rules: rules}
	units := []unit.Unit{{ID: "a", Areas: box(19, -1, 20, 1)}, {ID: "b", Areas: orb.MultiPolygon{{{{20, -1}, {21, -1}, {21, 1}, {20, 1}, {20, -1}}}}}}
	zone := int64(math.Round(32 / acre * 1e4))
	near(t, "zone", NewMap(units).Stands(g, 1)[0], []Share{{0, 2500, 2500, 1250, zone / 4}, {1, 7500, 7500, 3750, zone * 3 / 4}})
	// North and south of the equator's zone edge, 32 m up: all the zone is south.
	units = []unit.Unit{{ID: "n", Areas: square(m, -500, 32, 500, 500)}, {ID: "s", Areas: square(m, -500, -500, 500, 32)}}
	south := zone
	near(t, "zone, by its edge", NewMap(units).Stands(g, 1)[0], []Share{
		{0, 10000 - south, 10000 - south, (10000 - south) / 2, 0}, {1, south, south, south / 2, zone},
	})
}

// Footprints and Voronoi cells of testdata/shape/coverage.json, placed in metres around a place:
// shares equal those of GEOS (scripts/oracle_shape.py) within a unit of the last digit, plus a
// millimetre along the outline.
func TestSharesAgainstGEOS(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "shape", "coverage.json"))
	if err != nil {
		t.Fatal(err)
	}
	var f struct {
		Cells      []orb.Polygon
		Footprints []struct {
			Ring   orb.Ring
			Area   float64
			Shares []float64
		}
	}
	if err := json.Unmarshal(raw, &f); err != nil {
		t.Fatal(err)
	}
	frame := earth.NewFrame(orb.Point{149, -35})
	var units []unit.Unit
	for i, c := range f.Cells {
		units = append(units, unit.Unit{ID: fmt.Sprint(i), Areas: frame.Unproject(orb.MultiPolygon{c})})
	}
	cut := 0
	for k, p := range f.Footprints {
		st := fullStand(frame.Unproject(orb.MultiPolygon{{p.Ring}}))
		got := map[int32]int64{}
		for _, s := range NewMap(units).Stands(onLand(st), 1)[0] {
			got[s.Unit] = s.Infested
		}
		cut += min(1, len(got)-1)
		for i, want := range p.Shares {
			if off := float64(got[int32(i)])/coarse - want/4046.8564224*1e4; math.Abs(off) > 1+2e-5*p.Area {
				t.Errorf("footprint %d, cell %d: %d, want %v", k, i, got[int32(i)], want/4046.8564224*1e4)
			}
		}
	}
	if cut < 20 {
		t.Errorf("only %d footprints cut", cut)
	}
}

// drawUnits draws units around a place that overlap and leave gaps and slivers; two may be equal.
func drawUnits(t *rapid.T, m orb.Point) []unit.Unit {
	var units []unit.Unit
	at := rapid.Float64Range(-150, 150)
	for i := range rapid.IntRange(1, 6).Draw(t, "units") {
		x, y := at.Draw(t, "x"), at.Draw(t, "y")
		u := unit.Unit{ID: fmt.Sprint("u", i), Areas: square(m, x, y, x+rapid.Float64Range(1e-6, 300).Draw(t, "width"), y+rapid.Float64Range(1, 300).Draw(t, "height"))}
		if i > 0 && rapid.Bool().Draw(t, "same") {
			u.Areas = units[i-1].Areas
		}
		units = append(units, u)
	}
	return units
}

// For any stands and units: shares add up exactly, keep canopy <= infested <= gross, are sorted by
// id, and are the same for units in another order and for 1 or 8 workers.
func TestSharesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom([]orb.Point{{20, 0}, {180, -17}, {-70, -33}, {10, 60}}).Draw(t, "middle")
		units := drawUnits(t, m)
		records := drawRecords(t, m)
		stands, _, err := stand.Map(records, survey.Quarter{Year: 2026, Number: 3}, rules, 1)
		if err != nil {
			t.Fatal(err)
		}
		g := onLand(stands...)
		g.Records = survey.Records{Listed: records}
		got := NewMap(units).Stands(g, 1)
		for i := range g.Stands {
			addUp(t, &g.Stands[i], got[i])
		}
		order := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)).Perm(len(units))
		shuffled := make([]unit.Unit, len(units))
		for k, i := range order {
			shuffled[k] = units[i]
		}
		other := NewMap(shuffled).Stands(g, 8)
		for i := range other {
			for k := range other[i] {
				if at := other[i][k].Unit; at != Outside {
					other[i][k].Unit = int32(order[at])
				}
			}
		}
		if d := cmp.Diff(got, other); d != "" {
			t.Error(d)
		}
	})
}

// drawRecords draws patches about a place, some of them outlines, by id.
func drawRecords(t *rapid.T, m orb.Point) []survey.Record {
	frame := earth.NewFrame(m)
	at := rapid.Float64Range(-100, 100)
	var records []survey.Record
	for i := range rapid.IntRange(1, 12).Draw(t, "records") {
		x, y := at.Draw(t, "x"), at.Draw(t, "y")
		r := survey.Record{ID: fmt.Sprintf("%02d", i), Position: frame.Inverse(orb.Point{x, y}), Detected: true, StemHeight: geo.Meters(math.NaN()),
			PatchArea: geo.SquareMeters(rapid.Float64Range(0.1, 5000).Draw(t, "area")), Cover: rapid.Float64Range(0, 100).Draw(t, "cover")}
		if rapid.IntRange(0, 11).Draw(t, "drawn") == 0 {
			r.Outline = square(m, x-9, y-9, x+9, y+9)
		}
		records = append(records, r)
	}
	return records
}

func addUp(t *rapid.T, st *stand.Stand, shares []Share) {
	sum := Share{}
	for k, s := range shares {
		sum.Infested += s.Infested
		sum.Gross += s.Gross
		sum.Canopy += s.Canopy
		if s.Canopy > s.Infested || s.Infested > s.Gross || min(s.Canopy, s.Infested, s.Gross) < 0 {
			t.Errorf("share %+v", s)
		}
		if k > 0 && uint32(shares[k-1].Unit) >= uint32(s.Unit) {
			t.Errorf("%d after %d", s.Unit, shares[k-1].Unit)
		}
	}
	if want := (Share{Infested: st.Infested.Grains(), Gross: st.Gross.Grains(), Canopy: st.Canopy.Grains()}); sum != want {
		t.Errorf("sum %+v, want %+v", sum, want)
	}
}

// Derived by hand: the equator is 6378137 m by radians from west to east.
func TestReachesByHand(t *testing.T) {
	units := []unit.Unit{{ID: "b", Areas: box(10.5, -1, 11, 1)}, {ID: "a", Areas: box(9, -1, 10.5, 1)}, {ID: "c", Areas: box(179, -1, 181, 1)}, {ID: "beyond", Areas: box(-152, -1, -151, 1)}}
	degree := 6378.137 * math.Pi / 180
	km := func(x float64) int64 { return int64(math.Round(x * degree * 1e4)) }
	for _, c := range []struct {
		name string
		path orb.LineString
		long float64 // degrees
		want []Length
	}{
		{"in one", orb.LineString{{9.5, 0}, {10, 0}}, 0.5, []Length{{1, km(0.5)}}},
		{"outside", orb.LineString{{5, 0}, {6, 0}}, 1, []Length{{Outside, km(1)}}},
		{"across two and out", orb.LineString{{10.25, 0}, {10.4, 0}, {11.5, 0}}, 1.25, []Length{{1, km(0.25)}, {0, km(0.5)}, {Outside, km(0.5)}}},
		{"along the border of two", orb.LineString{{10.5, -0.5}, {10.5, 0.5}}, 1, []Length{{1, km(1)}}},
		{"past 180, running on", orb.LineString{{178, 0}, {179.9, 0}, {180.5, 0}, {182, 0}}, 4, []Length{{2, km(2)}, {Outside, km(2)}}},
		{"past 180, jumping", orb.LineString{{178, 0}, {179.9, 0}, {-179.5, 0}, {-178, 0}}, 4, []Length{{2, km(2)}, {Outside, km(2)}}},
		{"there and back", orb.LineString{{10.4, 0}, {10.6, 0}, {10.4, 0}}, 0.4, []Length{{1, km(0.2)}, {0, km(0.2)}}},
		{"no length", orb.LineString{{10.5, 0}, {10.5, 0}}, 0, []Length{{1, 0}}},
		{"one point", orb.LineString{{9.5, 0}}, 0, []Length{{1, 0}}},
		{"across two, too short to print", orb.LineString{{10.4, 0}, {10.6, 0}}, 0, []Length{{1, 0}}},
		{"a turn farther on", orb.LineString{{369.5, 0}, {370, 0}}, 0.5, []Length{{1, km(0.5)}}},
		{"thirty degrees past 180", orb.LineString{{178, 0}, {190, 0}, {210, 0}}, 32, []Length{{3, km(1)}, {2, km(2)}, {Outside, km(29)}}},
		{"no path", nil, 0, []Length{{Outside, 0}}},
		{"a tenth of a metre in one", orb.LineString{{10.4999991, 0}, {11, 0}}, 0.5000009, []Length{{1, 1}, {0, km(0.5)}}},
	} {
		reach := drift.Reach{Path: c.path, LengthKm: geo.Kilometers(c.long * degree)}
		got := NewMap(units).Reaches([]drift.Reach{reach}, 1)[0]
		if d := cmp.Diff(c.want, got, cmp.Comparer(func(a, b int64) bool { return max(a-b, b-a) <= 1 })); d != "" {
			t.Errorf("%s: %s", c.name, d)
		}
		sum := int64(0)
		for _, l := range got {
			sum += l.Km
		}
		if sum != km(c.long) {
			t.Errorf("%s: adds up to %d of %d", c.name, sum, km(c.long))
		}
	}
}
