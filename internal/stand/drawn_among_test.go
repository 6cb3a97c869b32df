package stand

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// TestOutlineHoldsEveryPatch: the written outline of a stand of circles and drawn patches, in any
// order, contains the middle of each, and its area is the stated one. A square of 40 m, one circle
// of radius 10 apart from it and one half inside: by hand 1600 + 314.16 + 157.08 m2.
func TestOutlineHoldsEveryPatch(t *testing.T) {
	for name, middle := range places {
		square, half, apart := record("a", middle, 0, 0), record("b", middle, 20, 0), record("c", middle, 0, 31)
		square.Outline = rectangle(middle, -20, -20, 20, 20)
		half.PatchArea, apart.PatchArea = math.Pi*100, math.Pi*100
		for _, records := range [][]survey.Record{{square, half, apart}, {half, apart, square}, {apart, square, half}} {
			st := Build(records, []int32{0, 1, 2}, DefaultSettings())
			if want := 1600 + math.Pi*150; math.Abs(float64(st.Infested)-want) > 0.1 {
				t.Errorf("%s: %v m2, want %v", name, st.Infested, want)
			}
			outline := st.Footprint.Polygons()
			if area := earth.Area(outline); math.Abs(float64(area-st.Infested)) > 0.01 {
				t.Errorf("%s: the outline has %v m2, stated are %v", name, area, st.Infested)
			}
			frame := earth.NewFrame(middle)
			for _, xy := range []orb.Point{{-15, -15}, {15, 15}, {25, 0}, {0, 31}, {0, 40}} {
				at := frame.Inverse(xy)
				if !testkit.Within(outline, at) && !testkit.Within(outline, orb.Point{at[0] + 360, at[1]}) && !testkit.Within(outline, orb.Point{at[0] - 360, at[1]}) {
					t.Errorf("%s: %v m lies outside the outline", name, xy)
				}
			}
		}
	}
}

// TestExposedOfEach: in a stand of a drawn square and three circles of different sizes that do not
// overlap, each circle's derivative by growth is its own area, in any order of the records.
func TestExposedOfEach(t *testing.T) {
	middle := places["mid north"]
	areas := []float64{100, 225, 400}
	square := record("s", middle, 0, 0)
	square.Outline = rectangle(middle, -15, -15, 15, 15)
	var discs []survey.Record
	for i, x := range []float64{40, 75, 110} {
		d := record("d", middle, x, 0)
		d.PatchArea = geo.SquareMeters(areas[i])
		discs = append(discs, d)
	}
	for at := range 4 {
		records := slices.Insert(slices.Clone(discs), at, square)
		st := Build(records, []int32{0, 1, 2, 3}, DefaultSettings())
		for i, e := range st.Lay(records, DefaultSettings()).Exposed() {
			want := 900.0
			if records[i].Outline == nil {
				k := i
				if i > at {
					k--
				}
				want = areas[k]
			}
			if math.Abs(float64(e.Swell)-want) > 0.02*want {
				t.Errorf("the square at %d, record %d swells by %v, want %v", at, i, e.Swell, want)
			}
		}
	}
}

// TestSpans: the runs cover all stands, each once and in order, and no run has more stands than a
// task needs.
func TestSpans(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	for range 200 {
		members := make([][]int32, random.IntN(60))
		for i := range members {
			members[i] = make([]int32, 1+random.IntN([]int{3, 100, 400}[random.IntN(3)]))
		}
		next := 0
		for k, s := range spans(members) {
			if s[0] != next || s[1] <= s[0] {
				t.Fatalf("run %d is %v after %d", k, s, next)
			}
			points := 0
			for _, m := range members[s[0]:s[1]] {
				points += len(m)
			}
			if last := len(members[s[1]-1]); points-last >= pointsPerTask || points < pointsPerTask && s[1] != len(members) {
				t.Fatalf("run %v has %d points, its last stand %d", s, points, last)
			}
			next = s[1]
		}
		if next != len(members) {
			t.Fatalf("%d of %d stands are in a run", next, len(members))
		}
	}
}

// TestInsidePastTheAntimeridian: an outline that continues past 180, with its middle given on
// either turn: the place is the middle, in -180 to 180. For a middle outside the outline the place
// is still inside.
func TestInsidePastTheAntimeridian(t *testing.T) {
	across := Pack(orb.MultiPolygon{{{{179.99, 10}, {180.03, 10}, {180.03, 10.02}, {179.99, 10.02}, {179.99, 10}}}})
	for _, x := range []float64{-179.98, 180.02} {
		if got := across.Inside(orb.Point{x, 10.01}); math.Abs(got[0]+179.98) > 1e-6 || math.Abs(got[1]-10.01) > 1e-6 {
			t.Errorf("from %v: %v, want -179.98, 10.01", x, got)
		}
	}
	for _, away := range []orb.Point{{-179.96, 10.01}, {179.5, 10.01}, {170, 10.01}} {
		got := across.Inside(away)
		if got[0] >= 180 || got[0] < -180 || !testkit.Within(across.Polygons(), got) && !testkit.Within(across.Polygons(), orb.Point{got[0] + 360, got[1]}) {
			t.Errorf("from %v: %v lies outside", away, got)
		}
	}
}

// TestScatteredOnTheSlant: one of two circles is moved along the line between them, or across it.
// By the lens of two circles of radius 10: along the line the distance changes from d to d + m and
// d - m; across it, to the root of d2 + m2 both times. If a move were reversed in one axis only,
// the two results would be exchanged.
func TestScatteredOnTheSlant(t *testing.T) {
	const r = 10.0
	union := func(d float64) float64 {
		if d >= 2*r {
			return 2 * math.Pi * r * r
		}
		return 2*math.Pi*r*r - (2*r*r*math.Acos(d/(2*r)) - d/2*math.Sqrt(4*r*r-d*d))
	}
	frame := earth.NewFrame(orb.Point{-40, -33})
	at := func(x, y float64) survey.Record {
		return survey.Record{Position: frame.Inverse(orb.Point{x, y}), Detected: true, PatchArea: math.Pi * r * r, Cover: math.NaN(), StemHeight: geo.Meters(math.NaN())}
	}
	s := DefaultSettings()
	const d, m = 12.0, 5.0
	step := math.Sqrt(0.5)
	records := []survey.Record{at(0, 0), at(d*step, d*step)}
	st := Build(records, []int32{0, 1}, s)
	along := st.Lay(records, s).Scattered([][][2]float64{{{}, {m * step, m * step}}}, false)
	across := st.Lay(records, s).Scattered([][][2]float64{{{}, {m * step, -m * step}}}, false)
	if want := (union(d+m)+union(d-m))/2 - union(d); math.Abs(float64(along.Infested)-want) > 1e-3 {
		t.Errorf("along: %v, want %v", along.Infested, want)
	}
	if want := union(math.Hypot(d, m)) - union(d); math.Abs(float64(across.Infested)-want) > 1e-3 {
		t.Errorf("across: %v, want %v", across.Infested, want)
	}
	both := st.Lay(records, s).Scattered([][][2]float64{{{}, {m * step, m * step}}, {{}, {m * step, -m * step}}}, false)
	if want := (along.Infested + across.Infested) / 2; math.Abs(float64(both.Infested-want)) > 1e-9 {
		t.Errorf("the mean of both: %v, want %v", both.Infested, want)
	}
}
