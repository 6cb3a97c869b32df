package stand

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
	"driftreach/internal/survey"
)

// TestExposed: two default patches 10 m apart. Each contributes the exposed part of its circle to
// growth, and the common chord to moves; by hand, from the radius of 0.1 acre.
func TestExposed(t *testing.T) {
	const r, d = 11.34971, 10.0
	for name, middle := range places {
		records := []survey.Record{record("a", middle, 0, 0), record("b", middle, d, 0)}
		st := Build(records, []int32{0, 1}, DefaultSettings())
		for i, e := range st.Lay(records, DefaultSettings()).Exposed() {
			shows := 2*math.Pi*r - 2*r*math.Acos(d/2/r)
			if got, want := float64(e.Swell), r/2*shows; math.Abs(got-want) > 1e-3 {
				t.Errorf("%s: swells by %v, want %v", name, got, want)
			}
			if got, want := math.Hypot(e.Move[0], e.Move[1]), 2*math.Sqrt(r*r-d*d/4); math.Abs(got-want) > 1e-3 || (e.Move[0] > 0) != (i == 1) {
				t.Errorf("%s: moves by %v, want %v", name, e.Move, want)
			}
			if !e.AreaAssumed || !e.CoverAssumed {
				t.Errorf("%s: %+v", name, e.Patch)
			}
		}
	}
}

// TestExposedGross: the derivatives of gross area equal its differences. A stand of at most a tenth
// of an acre has the derivatives of its infested area.
func TestExposedGross(t *testing.T) {
	middle, s := places["mid north"], DefaultSettings()
	lay := func(times, x float64) ([]survey.Record, Stand) {
		records := []survey.Record{record("a", middle, 0, 0), record("b", middle, 26+x, 3), record("c", middle, 44, 9)}
		for i, area := range []float64{200, 300 * times, 150} {
			records[i].PatchArea = geo.SquareMeters(area)
		}
		return records, Build(records, []int32{0, 1, 2}, s)
	}
	records, st := lay(1, 0)
	got := grossOf(st.Lay(records, s))[1]
	slope := func(at func(h float64) Stand) float64 { return float64(at(1e-3).Gross-at(-1e-3).Gross) / 2e-3 }
	swell := slope(func(h float64) Stand { _, st := lay(1+h, 0); return st })
	move := slope(func(h float64) Stand { _, st := lay(1, h); return st })
	if math.Abs(float64(got.Swell)-swell) > 1e-3*swell || math.Abs(got.Move[0]-move) > 1e-2*math.Abs(move) {
		t.Errorf("%+v, want %v and %v", got, swell, move)
	}
	small := []survey.Record{record("a", middle, 0, 0), record("b", middle, 25, 0)}
	small[0].PatchArea, small[1].PatchArea = 50, 60
	st = Build(small, []int32{0, 1}, s)
	for i, e := range grossOf(st.Lay(small, s)) {
		if want := small[i].PatchArea; math.Abs(float64(e.Swell-want)) > 1e-6 {
			t.Errorf("small stand: %+v, want %v", e, want)
		}
	}
}

// TestExposedDrawn: for a lone outline the derivative by growth is its area; for a disc half inside
// it, less. The tolerances are those of the pieces in which outlines are walked.
func TestExposedDrawn(t *testing.T) {
	middle, s := places["mid north"], DefaultSettings()
	drawn, disc := record("a", middle, 0, 0), record("b", middle, 20, 0)
	corner := func(x, y float64) orb.Point { return record("", middle, x, y).Position }
	drawn.Outline = orb.MultiPolygon{{{corner(-20, -15), corner(20, -15), corner(20, 15), corner(-20, 15), corner(-20, -15)}}}
	records := []survey.Record{drawn, disc}
	alone := Build(records, []int32{0}, s)
	if e := alone.Lay(records, s).Exposed()[0]; math.Abs(float64(e.Swell)-1200) > 1 {
		t.Errorf("alone: %+v", e)
	}
	both := Build(records, []int32{0, 1}, s)
	e := both.Lay(records, s).Exposed()
	// by hand: 22.7 of 30 m of the side at x = 20 are covered, and half of the disc
	if want := 1200 - 20*22.699/2; math.Abs(float64(e[0].Swell)-want) > 12 {
		t.Errorf("outline: %v, want %v", e[0].Swell, want)
	}
	if want := 404.686 / 2; math.Abs(float64(e[1].Swell)-want) > 8 {
		t.Errorf("disc: %v, want %v", e[1].Swell, want)
	}
}

// TestResting: of a default patch and a measured one that overlap, the ground covered only by the
// default patch rests on the default; by hand.
func TestResting(t *testing.T) {
	const r, d = 11.34971, 10.0
	middle := places["mid north"]
	records := []survey.Record{record("a", middle, 0, 0), record("b", middle, d, 0), record("c", middle, 200, 0)}
	records[1].PatchArea, records[1].Cover = geo.Acres(0.1).SquareMeters(), 30
	records[2].PatchArea, records[2].Cover = 80, 50
	lens := 2*r*r*math.Acos(d/2/r) - d/2*math.Sqrt(4*r*r-d*d)
	both := Build(records, []int32{0, 1}, DefaultSettings())
	got := both.Resting(records, DefaultSettings())
	if want := math.Pi*r*r - lens; math.Abs(float64(got.Infested)-want) > 1e-2 {
		t.Errorf("infested %v, want %v", got.Infested, want)
	}
	if want := both.Canopy * 2 / 3; math.Abs(float64(got.Canopy-want)) > 1e-6 { // 60 of 60 + 30 %
		t.Errorf("canopy %v, want %v", got.Canopy, want)
	}
	measured := Build(records, []int32{2}, DefaultSettings())
	if got := measured.Resting(records, DefaultSettings()); got != (Resting{}) {
		t.Errorf("measured: %+v", got)
	}
}

// TestRestingOnDefaultsAlone: a stand of default patches rests wholly on the default.
func TestRestingOnDefaultsAlone(t *testing.T) {
	middle, s := places["mid north"], DefaultSettings()
	records := []survey.Record{record("a", middle, 0, 0), record("b", middle, 10, 0)}
	st := Build(records, []int32{0, 1}, s)
	if got, want := st.Resting(records, s), (Resting{st.Infested, st.Canopy}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// TestRestingDrawn: by hand. Half of a default patch with its middle on a side of a drawn square of
// 40 m is outside: that half rests on the default. The canopy of 0.1 acre at 60 % rests on it, that
// of 1600 m2 at 50 % does not. A square alone rests on nothing.
func TestRestingDrawn(t *testing.T) {
	middle, s := places["mid north"], DefaultSettings()
	drawn, disc := record("a", middle, 0, 0), record("b", middle, 20, 0)
	drawn.Outline, drawn.Cover = rectangle(middle, -20, -20, 20, 20), 50
	records := []survey.Record{drawn, disc}
	st := Build(records, []int32{0, 1}, s)
	got := st.Resting(records, s)
	if want := 404.68564 / 2; math.Abs(float64(got.Infested)-want) > 0.2 { // circles are drawn by chords
		t.Errorf("infested %v, want %v", got.Infested, want)
	}
	if want := float64(st.Canopy) * 242.81139 / (242.81139 + 800); math.Abs(float64(got.Canopy)-want) > 1e-3 {
		t.Errorf("canopy %v, want %v", got.Canopy, want)
	}
	alone := Build(records, []int32{0}, s)
	if got := alone.Resting(records, s); got != (Resting{}) {
		t.Errorf("alone: %+v", got)
	}
}

// grossOf returns how the gross area of a stand depends on its members.
func grossOf(l *Laid) []shape.Exposure { return l.ExposedGross(l.Exposed()) }
