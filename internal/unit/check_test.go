package unit

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// box is a rectangle of degrees.
func box(west, south, east, north float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}}}
}

// good is a valid unit.
func good() Unit {
	return Unit{ID: "b", Name: "Bee", File: "units.geojson", Row: 2, Areas: box(10, -20, 10.1, -19.9)}
}

func codes(findings []check.Finding) string {
	var out []string
	for _, f := range findings {
		out = append(out, f.Record+" "+f.Rule.Code)
	}
	return strings.Join(out, "; ")
}

// TestBadUnits checks the finding for every kind of bad unit; by hand.
func TestBadUnits(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(u *Unit)
		kept   int
		want   string
	}{
		{"good", func(*Unit) {}, 1, ""},
		{"no place", func(u *Unit) { u.Areas = nil }, 0, "b unit-empty"},
		{"NaN", func(u *Unit) { u.Areas[0][0][1][1] = math.NaN() }, 0, "b unit-not-finite"},
		{"projected", func(u *Unit) { u.Areas[0][0][1] = orb.Point{500000, 4600000} }, 0, "b unit-out-of-range"},
		{"null island", func(u *Unit) { u.Areas[0][0][1] = orb.Point{} }, 0, "b unit-null-island"},
		{"no id", func(u *Unit) { u.ID = "" }, 1, "row 2 unit-id-missing"},
		{"no name", func(u *Unit) { u.Name = "" }, 1, ""},
		{"flat", func(u *Unit) { u.Areas = orb.MultiPolygon{{{{1, 1}, {2, 2}, {3, 3}, {1, 1}}}} }, 0, "b unit-without-area"},
		{"bow", func(u *Unit) { u.Areas = orb.MultiPolygon{{{{1, 1}, {2, 2}, {2, 1}, {1, 2}, {1, 1}}}} }, 1, "b unit-outline-repaired"},
		{"wound the other way", func(u *Unit) { slices.Reverse(u.Areas[0][0]) }, 1, ""},
	} {
		u := good()
		c.change(&u)
		kept, findings := Check([]Unit{u}, Options{})
		if len(kept) != c.kept || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %d with %q", c.name, len(kept), codes(findings), c.kept, c.want)
		}
	}
}

// TestRepairedBow: the two triangles of a bow tie are half of the square around it, by hand, except
// for the curvature of its parallels.
func TestRepairedBow(t *testing.T) {
	u := good()
	u.Areas = orb.MultiPolygon{{{{1, 1}, {1.01, 1.01}, {1.01, 1}, {1, 1.01}, {1, 1}}}}
	kept, _ := Check([]Unit{u}, Options{})
	got, want := float64(earth.Area(kept[0].Areas)), float64(earth.Area(box(1, 1, 1.01, 1.01)))/2
	if math.Abs(got-want) > 1e-4*want {
		t.Errorf("%g m2, want %g", got, want)
	}
}

// TestRepeatedIDs: copies are dropped, parts of one unit are joined, other names get different ids;
// by hand.
func TestRepeatedIDs(t *testing.T) {
	copy, part, other, taken := good(), good(), good(), good()
	copy.Row = 3
	part.Row, part.Areas = 4, box(10.1, -20, 10.2, -19.9)
	other.Row, other.Name, other.Areas = 5, "Cee", box(12, -20, 13, -19)
	taken.Row, taken.ID, taken.Areas = 6, "b~2", box(14, -20, 15, -19)
	units, findings := Check([]Unit{other, copy, part, good(), taken}, Options{})
	var ids []string
	for i := range units {
		ids = append(ids, fmt.Sprintf("%s %s %d", units[i].ID, units[i].Name, units[i].Features("units.geojson")))
	}
	if want := []string{"b Bee 2", "b~2 Bee 1", "b~3 Cee 1"}; !slices.Equal(ids, want) {
		t.Errorf("%q, want %q", ids, want)
	}
	if want := "b unit-duplicate; b unit-id-duplicate; b unit-in-parts"; codes(findings) != want {
		t.Errorf("%q, want %q", codes(findings), want)
	}
	got, want := float64(earth.Area(units[0].Areas)), float64(earth.Area(box(10, -20, 10.2, -19.9)))
	if math.Abs(got-want) > 1e-6*want {
		t.Errorf("parts together are %g m2, want %g", got, want)
	}
}

// TestPartition: overlaps and gaps with their ids and sizes. A hundredth of a degree square at 20 S
// is about 1 156 600 m2; shares of it by hand.
func TestPartition(t *testing.T) {
	at := func(id string, west, south, east, north float64) Unit {
		return Unit{ID: id, File: "u", Areas: box(10+west/100, -20+south/100, 10+east/100, -20+north/100)}
	}
	whole := float64(earth.Area(box(10, -20, 10.01, -19.99)))
	for _, c := range []struct {
		name  string
		units []Unit
		want  string
		share float64 // of the square, that the finding tells
	}{
		{"clean", []Unit{at("1", 0, 0, 1, 1), at("2", 1, 0, 2, 1)}, "", 0},
		{"apart", []Unit{at("1", 0, 0, 1, 1), at("2", 3, 0, 4, 1)}, "", 0},
		{"overlap", []Unit{at("9", 0, 0, 1, 1), at("10", 0.9, 0, 2, 1)}, "10 unit-overlap", 0.1},
		{"a sliver of overlap", []Unit{at("1", 0, 0, 1, 1), at("2", 0.999995, 0, 2, 1)}, "", 0},
		{"gap", []Unit{at("1", 0, 0, 3, 1), at("2", 0, 1, 1, 2), at("3", 2, 1, 3, 2), at("4", 0, 2, 3, 3)}, "1 unit-gap", 1},
		{"open gap", []Unit{at("1", 0, 0, 3, 1), at("2", 0, 1, 1, 2), at("3", 2, 1, 3, 2)}, "", 0},
		{"a sliver of gap", []Unit{at("1", 0, 0, 3, 1), at("2", 0, 1, 1, 2), at("3", 1.000005, 1, 3, 2), at("4", 0, 2, 3, 3)}, "", 0},
	} {
		_, findings := Check(c.units, Options{})
		if codes(findings) != c.want {
			t.Errorf("%s: %q, want %q", c.name, codes(findings), c.want)
			continue
		}
		for _, f := range findings {
			var size, acres float64
			if _, err := fmt.Sscanf(f.Value, "%g m2 (%g ac)", &size, &acres); err != nil || math.Abs(size-c.share*whole) > 1e-3*whole || f.Position == nil {
				t.Errorf("%s: %q of %g m2 at %v", c.name, f.Value, whole, f.Position)
			}
		}
	}
}

// TestManyOverlaps: 64 copies make 2016 pairs, by hand more than are examined.
func TestManyOverlaps(t *testing.T) {
	var units []Unit
	for i := range 64 {
		units = append(units, Unit{ID: fmt.Sprint(i), File: "u", Areas: box(10, -20, 11, -19)})
	}
	_, findings := Check(copied(units[:63]), Options{}) // 1953 pairs
	if text := codes(findings); strings.Contains(text, "many") {
		t.Error(text)
	}
	_, findings = Check(units, Options{})
	if text := codes(findings); !strings.Contains(text, "63 unit-overlap-many") || strings.Count(text, ";") != 1 {
		t.Error(text)
	}
}

// TestLastOverlapLookedInto: of 63 copies, 1953 pairs, and of 48 pairs elsewhere, 2000 pairs are examined;
// the last is the 47th of those elsewhere, and its second unit is named.
func TestLastOverlapLookedInto(t *testing.T) {
	for pairs, want := range map[int]string{47: "", 48: "156 unit-overlap-many"} {
		var units []Unit
		for i := range 63 {
			units = append(units, Unit{ID: fmt.Sprint(i), File: "u", Areas: box(10, -20, 11, -19)})
		}
		for i := range 2 * pairs {
			x := 20 + 2*float64(i/2)
			units = append(units, Unit{ID: fmt.Sprint(63 + i), File: "u", Areas: box(x, -20, x+1, -19)})
		}
		_, findings := Check(units, Options{})
		many := ""
		for _, said := range strings.Split(codes(findings), "; ") {
			if strings.HasSuffix(said, "many") {
				many += said
			}
		}
		if many != want {
			t.Errorf("%d pairs elsewhere: %q, want %q", pairs, many, want)
		}
	}
}

// TestPartitionAtTheAntimeridian: neighbours with longitudes one turn apart are compared too.
func TestPartitionAtTheAntimeridian(t *testing.T) {
	across := Unit{ID: "1", File: "u", Areas: append(box(179.99, -18, 180, -17.99), box(-180, -18, -179.99, -17.99)...)}
	east := Unit{ID: "2", File: "u", Areas: box(-179.995, -18, -179.98, -17.99)}
	units, findings := Check([]Unit{across, east}, Options{})
	if codes(findings) != "2 unit-overlap" || units[1].Areas.Bound().Min[0] != -179.995 {
		t.Error(codes(findings), units[1].Areas.Bound())
	}
	// the finding is at a corner of what they share: 179.995 to 179.99 west, 18 to 17.99 south
	at := findings[0].Position
	if at == nil || min(math.Abs(at[0]+179.995), math.Abs(at[0]+179.99)) > 1e-9 || min(math.Abs(at[1]+18), math.Abs(at[1]+17.99)) > 1e-9 {
		t.Errorf("the finding is at %v", at)
	}
}

// TestGapsAtMeridians: ground between two units that end at a meridian is a gap, at 180 and, beside a
// unit that passes 180, at Greenwich. Each of the two is a ring cut open at the meridian: 1 degree
// with a hole of 0.2; by hand.
func TestGapsAtMeridians(t *testing.T) {
	open := func(lon, side float64) orb.MultiPolygon {
		ring := orb.Ring{{lon, 10}, {lon + side, 10}, {lon + side, 11}, {lon, 11}, {lon, 10.6}, {lon + 0.1*side, 10.6}, {lon + 0.1*side, 10.4}, {lon, 10.4}, {lon, 10}}
		if side < 0 {
			ring.Reverse()
		}
		return orb.MultiPolygon{{ring}}
	}
	past := append(box(179, 3, 180, 4), box(-180, 3, -179, 4)...)
	for name, areas := range map[string][]orb.MultiPolygon{"180": {open(180, -1), open(-180, 1)}, "0": {open(0, -1), open(0, 1), past}} {
		var units []Unit
		for i, a := range areas {
			units = append(units, Unit{ID: strconv.Itoa(i), File: "u", Areas: a})
		}
		if _, findings := Check(units, Options{}); codes(findings) != "0 unit-gap" {
			t.Errorf("at %s: %q", name, codes(findings))
		}
	}
}

// TestNaturalOrder: ids with numbers come in the order of the numbers.
func TestNaturalOrder(t *testing.T) {
	ten, nine := good(), good()
	ten.ID, nine.ID = "U10", "U9"
	nine.Areas = box(11, -20, 12, -19)
	units, _ := Check([]Unit{ten, nine}, Options{})
	if units[0].ID != "U9" || units[1].ID != "U10" {
		t.Error(units[0].ID, units[1].ID)
	}
}

// TestAcrossTheAntimeridian: parts on both sides are joined.
func TestAcrossTheAntimeridian(t *testing.T) {
	u := good()
	u.Areas = append(box(179, -18, 180, -17), box(-180, -18, -179, -17)...)
	units, findings := Check([]Unit{u}, Options{})
	if b := units[0].Areas.Bound(); b.Min[0] != 179 || b.Max[0] != 181 {
		t.Error(b, codes(findings))
	}
}

// TestCheckOrder: the result depends on the set of features, not on their order, and every rejected
// feature has an error.
func TestCheckOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var units []Unit
		for i := range rapid.IntRange(0, 6).Draw(r, "units") {
			u := good()
			u.Row = i
			u.ID = rapid.SampledFrom([]string{"", "a", "b", "a~2"}).Draw(r, "id")
			u.Name = rapid.SampledFrom([]string{"", "x"}).Draw(r, "name")
			west := rapid.SampledFrom([]float64{1, 2, 2.5, 999}).Draw(r, "west")
			u.Areas = box(west, 1, west+1, 2)
			units = append(units, u)
		}
		again := rapid.Permutation(units).Draw(r, "again")
		one, told := Check(copied(units), Options{})
		two, toldToo := Check(copied(again), Options{})
		if !reflect.DeepEqual(one, two) || fmt.Sprint(told) != fmt.Sprint(toldToo) {
			r.Fatalf("%v %s\n%v %s", one, codes(told), two, codes(toldToo))
		}
		features := check.Count(told, check.Error)
		for i := range one {
			features += one[i].Features("units.geojson")
		}
		if features != len(units) {
			r.Fatalf("%d features, of which %d are accounted for", len(units), features)
		}
		for i := 1; i < len(one); i++ {
			if check.CompareNatural(one[i-1].ID, one[i].ID) >= 0 {
				r.Fatalf("ids %q and %q", one[i-1].ID, one[i].ID)
			}
		}
	})
}

func copied(units []Unit) []Unit {
	out := slices.Clone(units)
	for i := range out {
		out[i].Areas = out[i].Areas.Clone()
	}
	return out
}

func TestRulesAreDistinct(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		if seen[r.Code] || r.Remedy == "" || !strings.HasPrefix(r.Code, "unit-") {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
	}
}

// TestPartitionAtGreenwich: neighbours on both sides of Greenwich that overlap are told, and none of
// their longitudes is turned.
func TestPartitionAtGreenwich(t *testing.T) {
	west := Unit{ID: "1", File: "u", Areas: box(-0.02, 50, -0.001, 50.01)}
	middle := Unit{ID: "2", File: "u", Areas: box(-0.005, 50, 0.02, 50.01)}
	far := Unit{ID: "3", File: "u", Areas: box(-0.02, 50.01, -0.003, 50.02)}
	units, findings := Check([]Unit{west, middle, far}, Options{})
	if codes(findings) != "2 unit-overlap" || units[0].Areas.Bound().Min[0] != -0.02 {
		t.Error(codes(findings), units[0].Areas.Bound())
	}
}
