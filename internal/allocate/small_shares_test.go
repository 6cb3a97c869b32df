package allocate

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/internal/aquatic"
	"driftreach/internal/drift"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/unit"
)

// TestRoundingByRule: a second program of largest remainders, in whole numbers, straight from the
// rule: amounts are rounded down; then one more for those with the largest remainders, a tie to the
// first, round by round as far as limits allow.
func TestRoundingByRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "parts")
		step := rapid.SampledFrom([]int64{1, 2, 10}).Draw(t, "step")
		amounts, exact := make([]int64, n), int64(0)
		var most []int64
		bounded := rapid.Bool().Draw(t, "bounded")
		for k := range amounts {
			amounts[k] = rapid.Int64Range(0, 25).Draw(t, "amount")
			exact += amounts[k]
			if bounded {
				most = append(most, step*rapid.Int64Range(0, 30).Draw(t, "at most"))
			}
		}
		total := Round(exact, step)
		want, left := make([]int64, n), total
		room := func(k int) bool { return most == nil || want[k] < most[k] }
		for k, a := range amounts {
			for want[k]+step <= a && room(k) {
				want[k] += step
				left -= step
			}
		}
		for given := true; left > 0 && given; {
			given = false
			had := make([]bool, n)
			for range amounts { // each gets at most one more in a round
				best := -1
				for k, a := range amounts {
					if !had[k] && a != 0 && room(k) && (best < 0 || a%step > amounts[best]%step) {
						best = k
					}
				}
				if best < 0 || left <= 0 {
					break
				}
				had[best], given = true, true
				want[best] += step
				left -= step
			}
		}
		if got := ToTotal(total, amounts, step, most); !slices.Equal(got, want) {
			t.Fatalf("%v of %v to %d by %d, at most %v: want %v", got, amounts, total, step, most, want)
		}
		weights := make([]float64, n)
		for k, a := range amounts {
			weights[k] = float64(a)
		}
		if exact > 0 && most == nil { // the same by weight: amounts in steps of one whole
			parts := byWeight(total/step, weights, nil)
			quota := func(k int) (whole, rest int64) { x := total / step * amounts[k]; return x / exact, x % exact }
			sum := int64(0)
			for k := range parts {
				whole, _ := quota(k)
				sum += parts[k]
				if parts[k] != whole && parts[k] != whole+1 {
					t.Fatalf("%v of %v to %d", parts, weights, total/step)
				}
				for j := range parts {
					wholeJ, restJ := quota(j)
					_, rest := quota(k)
					if parts[k] > whole && parts[j] == wholeJ && (restJ > rest || restJ == rest && j < k) && max(restJ-rest, rest-restJ) != 0 {
						t.Fatalf("%v of %v to %d: %d has one more, %d has not", parts, weights, total/step, k, j)
					}
				}
			}
			if sum != total/step {
				t.Fatalf("%v are not %d", parts, total/step)
			}
		}
	})
}

// TestLeastAmounts: a total of one goes to the larger weight, and to the part that allows one; by
// hand.
func TestLeastAmounts(t *testing.T) {
	if got := byWeight(1, []float64{1, 2}, nil); !slices.Equal(got, []int64{0, 1}) {
		t.Errorf("one by weights 1 and 2: %v", got)
	}
	if got := byWeight(1, []float64{0.25, 0}, nil); !slices.Equal(got, []int64{1, 0}) {
		t.Errorf("one by a small weight: %v", got)
	}
	if got := byWeight(6, []float64{2, 2, 2}, []int64{1, 1, 9}); !slices.Equal(got, []int64{1, 1, 4}) {
		t.Errorf("six within bounds: %v", got)
	}
	if got := ToTotal(10, slices.Repeat([]int64{1}, 10), 10, nil); !slices.Equal(got, []int64{10, 0, 0, 0, 0, 0, 0, 0, 0, 0}) {
		t.Errorf("ten ones to ten: %v", got)
	}
	if got := ToTotal(10, []int64{5, 5}, 1, []int64{3, 9}); !slices.Equal(got, []int64{3, 7}) {
		t.Errorf("ten by ones, the first three at most: %v", got)
	}
	if got := ToTotal(0, []int64{10, 0}, 10, nil); !slices.Equal(got, []int64{0, 0}) {
		t.Errorf("ten too much, beside nothing: %v", got)
	}
	if got := ToTotal(0, []int64{1}, 1, nil); !slices.Equal(got, []int64{0}) {
		t.Errorf("one too much: %v", got)
	}
	if got := ToTotal(-20, []int64{-1, -19}, 10, nil); !slices.Equal(got, []int64{0, -20}) {
		t.Errorf("twenty below nothing: %v", got)
	}
}

// TestGroundWithoutItsOwn: a share with only gaps is kept, though nothing there is infested; with
// equal shares, slivers go to the first; by hand.
func TestGroundWithoutItsOwn(t *testing.T) {
	all := Share{Infested: 2000, Gross: 3000}
	got := withoutSlivers([]Share{{0, 999, 1000, 0, 0}, {1, 1, 2, 1, 1}, {2, 999, 1000, 0, 0}, {3, 0, 995, 0, 0}, {4, 1, 3, 0, 0}}, all)
	if want := []Share{{0, 1001, 1005, 1, 1}, {2, 999, 1000, 0, 0}, {3, 0, 995, 0, 0}}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	got = withoutSlivers([]Share{{0, 0, 3, 0, 0}, {1, 3, 3, 0, 0}, {2, 4, 4, 0, 0}}, Share{Infested: 3000, Gross: 3000})
	if want := []Share{{1, 0, 0, 0, 0}, {2, 7, 10, 0, 0}}; !slices.Equal(got, want[1:]) {
		t.Errorf("%v, want %v", got, want[1:])
	}
}

// TestGapsThatCannotBeMeasured: where closing adds no ground, gaps are divided like the footprint;
// and a stand wholly in the zone has its zone acres where its ground is, whatever water is drawn.
// By hand.
func TestGapsThatCannotBeMeasured(t *testing.T) {
	m := orb.Point{-70, -33}
	st := fullStand(square(m, -acre/4, -acre/2, acre*3/4, acre/2))
	g := onLand(st)
	g.Zone[0] = aquatic.Membership{InZone: true, Area: st.Infested}
	units := NewMap([]unit.Unit{{ID: "a", Areas: square(m, -300, -300, 0, 300)}, {ID: "b", Areas: square(m, 0, -300, 300, 300)}})
	near(t, "all in the zone", units.Stands(g, 1)[0], []Share{{0, 2500, 2500, 1250, 2500}, {1, 7500, 7500, 3750, 7500}})

	cut := units.lay(wrapped(st.Footprint.Bound()), []int32{0, 1})
	footprint := cut.frame.Project(st.Footprint.Polygons())
	before := []float64{2000, 5000, 1} // more than there is
	if got := g.gapWeights(&st, footprint, before, &cut); !slices.Equal(got, before) {
		t.Errorf("gaps by %v, want as the footprint, %v", got, before)
	}
	quarter := 4046.8564224 / 4
	got := g.gapWeights(&st, footprint, []float64{quarter - 30, 3 * quarter, 0}, &cut)
	if math.Abs(got[0]-30) > 0.5 || got[1] > 0.5 || got[2] > 0.5 {
		t.Errorf("gaps by %v, want 30 in the first", got)
	}
}

// TestGapsOfDiscs: the gap between two round patches is closed as for true circles, whatever the
// sides of their drawn outline. Of the ground that closing by 15 m adds, the share west of a border
// is counted on a lattice, where a place counts as closed if no circle of 15 m fits over it beside
// the patches. The outline has four sides, so it differs much from the patches.
func TestGapsOfDiscs(t *testing.T) {
	m := orb.Point{25, 12}
	frame := earth.NewFrame(m)
	const r, x, join, border = 12.0, 20.0, 15.0, -3.0 // patches 30 m apart join: circles of half of it
	area := geo.SquareMeters(math.Pi * r * r)
	var records []survey.Record
	for i, at := range []float64{-x, x} {
		records = append(records, survey.Record{ID: string(rune('a' + i)), Position: frame.Inverse(orb.Point{at, 0}), Detected: true, PatchArea: area, Cover: 50, StemHeight: geo.Meters(math.NaN())})
	}
	diamond := func(at float64) orb.Polygon {
		return orb.Polygon{{{at - r, 0}, {at, -r}, {at + r, 0}, {at, r}, {at - r, 0}}}
	}
	drawn := frame.Unproject(orb.MultiPolygon{diamond(-x), diamond(x)})
	st := fullStand(drawn)
	st.Members = []int32{0, 1}
	// A circle of 15 m that touches both patches has its centre 27 m from both middles.
	notch := math.Sqrt((r+join)*(r+join) - x*x) // the lowest centre between the two
	west, all := 0.0, 0.0
	const step = 0.05
	for px := -x - r + step/2; px < x+r; px += step {
		for py := step / 2; py < r+step; py += step {
			inside := func(at float64) bool { return math.Abs(px-at)+py <= r }
			if inside(-x) || inside(x) {
				continue
			}
			round := math.Hypot(px+x, py) <= r || math.Hypot(px-x, py) <= r
			between := math.Abs(px) < x*join/(r+join) && py < notch*r/(r+join) && math.Hypot(px, py-notch) >= join // below the arc that touches both
			if !round && !between {
				continue
			}
			all++
			if px < border {
				west++
			}
		}
	}
	st.Gross = st.Infested + geo.SquareMeters(2*all*step*step)
	g := onLand(st)
	g.Records = survey.Records{Listed: records}
	units := []unit.Unit{{ID: "w", Areas: frame.Unproject(box(-500, -500, border, 500))}, {ID: "z", Areas: frame.Unproject(box(border, -500, 500, 500))}}
	got := NewMap(units).Stands(g, 1)[0]
	gap := float64(got[0].Gross - got[0].Infested)
	whole := float64(st.Gross.Grains() - st.Infested.Grains())
	if len(got) != 2 || math.Abs(gap/whole-west/all) > 0.002 {
		t.Errorf("%.4f of the gap lies west, counted %.4f", gap/whole, west/all)
	}
}

// TestLengthsAreOfTheirLatitude: a reach along a meridian from 50 to 52 degrees is divided where a
// border crosses it: a degree around a latitude is 111132.954 - 559.822 cos 2 lat + 1.175 cos 4 lat
// metres (WGS 84; series in Snyder, Map Projections, 1987), so the northern one is longer.
func TestLengthsAreOfTheirLatitude(t *testing.T) {
	degree := func(lat float64) float64 {
		lat *= math.Pi / 180
		return 111132.954 - 559.822*math.Cos(2*lat) + 1.175*math.Cos(4*lat)
	}
	m := NewMap([]unit.Unit{{ID: "s", Areas: box(9, 40, 11, 51)}, {ID: "n", Areas: box(9, 51, 11, 60)}})
	for name, path := range map[string]orb.LineString{"north": {{10, 50}, {10, 52}}, "south": {{10, 52}, {10, 50}}} {
		got := m.measure(path) // areas are in the order of ids: n is 0
		if math.Abs(got[0]-degree(51.5)) > 0.5 || math.Abs(got[1]-degree(50.5)) > 0.5 {
			t.Errorf("%s: %v, want %.1f and %.1f", name, got, degree(51.5), degree(50.5))
		}
	}
}

// TestReachFarPastTheAntimeridian: a reach that continues past 200 degrees is found in the unit
// there, though no other unit is near. By hand: one degree of the 30.
func TestReachFarPastTheAntimeridian(t *testing.T) {
	m := NewMap([]unit.Unit{{ID: "beyond", Areas: box(-152, -1, -151, 1)}})
	degree := 6378.137 * math.Pi / 180
	got := m.Reaches([]drift.Reach{{Path: orb.LineString{{179, 0}, {190, 0}, {209.5, 0}}, LengthKm: geo.Kilometers(30.5 * degree)}}, 1)[0]
	if len(got) != 2 || got[0].Unit != 0 || max(got[0].Km-int64(1e4*degree), int64(1e4*degree)-got[0].Km) > 1 || got[1].Unit != Outside {
		t.Errorf("%v", got)
	}
}

// TestFewAndManyTasks: stands are handed out in parts of 256: the last of one part and the first of
// the next are present, in order.
func TestFewAndManyTasks(t *testing.T) {
	m := orb.Point{-70, -33}
	units := []unit.Unit{{ID: "a", Areas: square(m, -300, -300, 0, 300)}, {ID: "b", Areas: square(m, 0, -300, 300, 300)}}
	for _, n := range []int{0, 1, 255, 256, 257, 600} {
		outlines, infested := make([]stand.Outline, n), make([]int64, n)
		for i := range outlines {
			outlines[i], infested[i] = stand.Pack(square(m, -acre/4, -acre/2, acre*3/4, acre/2)), int64(4*i*coarse)
		}
		for _, workers := range []int{0, 1, 3} {
			for i, shares := range NewMap(units).Footprints(outlines, infested, workers) {
				if i > 0 && (len(shares) != 2 || math.Abs(float64(shares[0].Infested)-float64(i*coarse)) > 1e-4*float64(i*coarse)) {
					t.Fatalf("stand %d of %d: %v", i, n, shares)
				}
			}
		}
	}
}

// TestZoneThatCannotBeDrawn: the zone acres of a stand where no drawn water contains any of its
// ground are divided like its ground. By hand, a river 5 km away.
func TestZoneThatCannotBeDrawn(t *testing.T) {
	m := orb.Point{20, 0.045}
	line := stream.Centerline{ID: "r", Path: orb.LineString{{19.9, 0}, {20.1, 0}}, BankfullWidth: 4}
	net, _ := stream.Connect([]stream.Centerline{line}, nil, nil, flow.Options{Snap: 1})
	st := fullStand(square(m, -acre/4, -acre/2, acre*3/4, acre/2))
	g := onLand(st)
	g.Water = aquatic.NewWater(net, aquatic.Settings{Setback: 30, WidthByOrder: []geo.Meters{2}})
	g.Zone[0] = aquatic.Membership{InZone: true, Area: geo.Acres(0.4).SquareMeters()}
	units := NewMap([]unit.Unit{{ID: "a", Areas: square(m, -300, -300, 0, 300)}, {ID: "b", Areas: square(m, 0, -300, 300, 300)}})
	near(t, "zone", units.Stands(g, 1)[0], []Share{{0, 2500, 2500, 1250, 1000}, {1, 7500, 7500, 3750, 3000}})
}

// TestStandOfNoAcres: a stand without acres that lies across a border is the first unit's, by id.
func TestStandOfNoAcres(t *testing.T) {
	m := orb.Point{-70, -33}
	units := NewMap([]unit.Unit{{ID: "b", Areas: square(m, -300, -300, 0, 300)}, {ID: "a", Areas: square(m, 0, -300, 300, 300)}})
	got := units.Footprints([]stand.Outline{stand.Pack(square(m, -30, -30, 30, 30))}, []int64{0}, 1)[0]
	if !slices.Equal(got, []Share{{Unit: 1}}) {
		t.Errorf("%v", got)
	}
}
