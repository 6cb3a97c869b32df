package allocate

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/unit"
)

// TestMainShare: most infested acres, then most gross acres, then the first; by hand.
func TestMainShare(t *testing.T) {
	for want, shares := range map[int32][]Share{
		Outside: nil, 4: {{Unit: 4}}, 2: {{Unit: 1, Infested: 5, Gross: 9}, {Unit: 2, Infested: 6, Gross: 6}, {Unit: 3, Infested: 5, Gross: 7}},
		7: {{Unit: 6, Infested: 5, Gross: 6}, {Unit: 7, Infested: 5, Gross: 7}, {Unit: 8, Infested: 5, Gross: 7}}, 9: {{Unit: 9, Infested: 5, Gross: 6}, {Unit: 1, Infested: 4, Gross: 99}},
	} {
		if got := MainShare(shares); got != want {
			t.Errorf("%v: %d, want %d", shares, got, want)
		}
	}
	for want, lengths := range map[int32][]Length{Outside: nil, 4: {{Unit: 4}}, 2: {{1, 5}, {2, 6}, {3, 6}}, 5: {{5, 7}, {6, 7}}} {
		if got := MainLength(lengths); got != want {
			t.Errorf("%v: %d, want %d", lengths, got, want)
		}
	}
}

// TestUnitOfAPlace: the unit that contains it, on any turn of the globe; none outside.
func TestUnitOfAPlace(t *testing.T) {
	m := NewMap([]unit.Unit{{ID: "a", Areas: box(10, 0, 11, 1)}, {ID: "b", Areas: box(-180, 0, -179, 1)}, {ID: "c", Areas: box(179, 0, 180, 1)}})
	for at, want := range map[orb.Point]int32{{10.5, 0.5}: 0, {370.5, 0.5}: 0, {-179.5, 0.5}: 1, {180.5, 0.5}: 1, {179.5, 0.5}: 2, {-180.5, 0.5}: 2, {12, 0.5}: Outside, {10.5, 2}: Outside} {
		if got := m.At(at); got != want {
			t.Errorf("%v lies in %d, want %d", at, got, want)
		}
	}
}

// TestSliversGoToTheLargest: shares below a thousandth go to the largest, with all their acreages;
// others stay; by hand.
func TestSliversGoToTheLargest(t *testing.T) {
	all := Share{Infested: 1000, Gross: 2000}
	got := withoutSlivers([]Share{{0, 1, 2, 1, 1}, {1, 900, 1500, 300, 200}, {2, 97, 495, 30, 20}, {3, 2, 3, 0, 0}, {4, 0, 0, 0, 0}}, all)
	if want := []Share{{1, 901, 1502, 301, 201}, {2, 97, 495, 30, 20}, {3, 2, 3, 0, 0}}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	// for large stands, shares below 500 000 grains
	all = Share{Infested: 1e10, Gross: 1e10}
	got = withoutSlivers([]Share{{0, 500_000, 500_000, 0, 0}, {1, 500_001, 500_001, 0, 0}, {2, 9e9, 9e9, 0, 0}}, all)
	if want := []Share{{1, 500_001, 500_001, 0, 0}, {2, 9_000_500_000, 9_000_500_000, 0, 0}}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestToTotalWithinBounds: an amount that a limit keeps from a part goes to parts with room; an
// excess is taken from the smallest remainders; by hand, a step is 10.
func TestToTotalWithinBounds(t *testing.T) {
	for name, test := range map[string]struct {
		total   int64
		amounts []int64
		most    []int64
		want    []int64
	}{
		"largest remainder": {100, []int64{33, 33, 34}, nil, []int64{30, 30, 40}}, "first of equals": {20, []int64{5, 5, 10}, nil, []int64{10, 0, 10}},
		"bounded": {100, []int64{39, 29, 32}, []int64{30, 100, 100}, []int64{30, 30, 40}}, "cut by its bound": {100, []int64{60, 40}, []int64{30, 100}, []int64{30, 70}},
		"below 0": {-10, []int64{-15, 5}, nil, []int64{-10, 0}}, "nothing stays nothing": {30, []int64{0, 28}, nil, []int64{0, 30}}, "too much": {10, []int64{11, 12, -3}, nil, []int64{10, 10, -10}},
		"no room": {50, []int64{20, 20}, []int64{20, 20}, []int64{20, 20}}, "none": {0, nil, nil, []int64{}},
	} {
		if got := ToTotal(test.total, test.amounts, 10, test.most); !slices.Equal(got, test.want) {
			t.Errorf("%s: %v, want %v", name, got, test.want)
		}
	}
	for amount, want := range map[int64]int64{0: 0, 4: 0, 5: 10, 14: 10, 15: 20, -4: 0, -5: -10, -14: -10, -15: -20} {
		if got := Round(amount, 10); got != want {
			t.Errorf("%d: %d, want %d", amount, got, want)
		}
	}
}

// TestObliqueReach: a straight line across the equator from 10 to 11 degrees east, from half a
// degree south to half a degree north, cut at a quarter of its way east. So near the equator a
// quarter of its length is west, within a thousandth; the whole is the hypotenuse of one degree of
// longitude, 111.320 km, and of latitude, 110.574 km. By hand.
func TestObliqueReach(t *testing.T) {
	whole := math.Hypot(111.320, 110.574)
	units := []unit.Unit{{ID: "w", Areas: box(9, -1, 10.25, 1)}, {ID: "e", Areas: box(10.25, -1, 12, 1)}}
	for name, path := range map[string]orb.LineString{"east": {{10, -0.5}, {11, 0.5}}, "west": {{11, 0.5}, {10, -0.5}}, "falling": {{10, 0.5}, {11, -0.5}}} {
		got := NewMap(units).Reaches([]drift.Reach{{Path: path, LengthKm: geo.Kilometers(whole)}}, 1)[0]
		if len(got) != 2 || got[0].Unit != 1 || math.Abs(float64(got[1].Km)/1e4-whole/4) > 0.001*whole || math.Abs(float64(got[0].Km)/1e4-whole*3/4) > 0.001*whole {
			t.Errorf("%s: %v", name, got)
		}
		parts := NewMap(units).measure(path)
		if math.Abs(parts[0]+parts[1]-1000*whole) > 20 {
			t.Errorf("%s: %v m, want %.0f", name, parts, 1000*whole)
		}
	}
}

// TestBoxesBeginWithinATurn: by hand.
func TestBoxesBeginWithinATurn(t *testing.T) {
	for from, want := range map[float64]float64{10: 10, 190: -170, -190: 170, 370: 10, 180: -180, -180: -180} {
		got := wrapped(orb.Bound{Min: orb.Point{from, 1}, Max: orb.Point{from + 5, 2}})
		if got != (orb.Bound{Min: orb.Point{want, 1}, Max: orb.Point{want + 5, 2}}) {
			t.Errorf("from %g: %v", from, got)
		}
	}
}
