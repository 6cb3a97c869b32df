package stand

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/survey"
)

// TestScattered: by hand. Two circles of radius 10 at one place; one of them is moved by 10 in both
// directions. Both times the union grows by the part of one circle outside the lens of two circles
// 10 apart, pi r2 less 2 r2 acos(d/2r) - d/2 sqrt(4 r2 - d2). A single patch has the same area
// anywhere.
func TestScattered(t *testing.T) {
	const r, d = 10.0, 10.0
	frame := earth.NewFrame(orb.Point{-40, -33})
	one := survey.Record{ID: "a", Position: frame.Inverse(orb.Point{}), Detected: true, PatchArea: math.Pi * r * r, Cover: math.NaN(), StemHeight: geo.Meters(math.NaN())}
	records := []survey.Record{one, one}
	s := DefaultSettings()
	st := Build(records, []int32{0, 1}, s)
	got := st.Lay(records, s).Scattered([][][2]float64{{{}, {d, 0}}}, true)
	want := math.Pi*r*r - (2*r*r*math.Acos(d/(2*r)) - d/2*math.Sqrt(4*r*r-d*d))
	if math.Abs(float64(got.Infested)-want) > 1e-6 {
		t.Errorf("infested moves by %v, want %v", got.Infested, want)
	}
	if both := st.Infested + got.Infested; both.Acres() > smallStand && got.Gross < got.Infested {
		t.Errorf("gross moves by %v, infested by %v", got.Gross, got.Infested)
	}
	lone := Build(records, []int32{0}, s)
	if got := lone.Lay(records, s).Scattered([][][2]float64{{{d, d}}}, true); got != (Areas{}) {
		t.Errorf("one patch moves by %+v", got)
	}
}

// TestScatteredDrawn: a drawn square counts as the circle of its area, so a square with the area of
// a circle of radius 10 at the same place gives the same as two such circles.
func TestScatteredDrawn(t *testing.T) {
	const r, d = 10.0, 10.0
	half := r * math.Sqrt(math.Pi) / 2
	middle, s := orb.Point{-40, -33}, DefaultSettings()
	disc, drawn := record("a", middle, 0, 0), record("b", middle, 0, 0)
	disc.PatchArea, drawn.Outline = math.Pi*r*r, rectangle(middle, -half, -half, half, half)
	want := math.Pi*r*r - (2*r*r*math.Acos(d/(2*r)) - d/2*math.Sqrt(4*r*r-d*d))
	for name, records := range map[string][]survey.Record{"circle moved": {drawn, disc}, "square moved": {disc, drawn}} {
		st := Build(records, []int32{0, 1}, s)
		got := st.Lay(records, s).Scattered([][][2]float64{{{}, {d, 0}}}, true)
		if math.Abs(float64(got.Infested)-want) > 1e-3 {
			t.Errorf("%s: infested moves by %v, want %v", name, got.Infested, want)
		}
		if got.Gross < got.Infested {
			t.Errorf("%s: gross moves by %v, infested by %v", name, got.Gross, got.Infested)
		}
	}
}
