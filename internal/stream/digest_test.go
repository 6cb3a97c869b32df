package stream

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// rounded returns positions rounded as a file with the given decimals has them.
func rounded(path []orb.Point, decimals int) []orb.Point {
	step := math.Pow10(decimals)
	out := make([]orb.Point, len(path))
	for i, p := range path {
		out[i] = orb.Point{math.Round(p[0]*step) / step, math.Round(p[1]*step) / step}
	}
	return out
}

// someLines are streams whose positions and figures have all digits of a float64.
func someLines(n int) []Centerline {
	r := rand.New(rand.NewPCG(3, 1))
	lines := make([]Centerline, n)
	for i := range lines {
		l := Centerline{
			ID: string(rune('a' + i)), Name: "Water", FlowShare: geo.Share(math.NaN()), Sequence: math.NaN(), BankfullWidth: 8.123456789, MeanVelocity: geo.MetersPerSecond(r.Float64()),
			Drainage: geo.SquareKilometers(math.NaN()), Discharge: geo.CubicMetersPerSecond(r.ExpFloat64()), MeanDischarge: geo.CubicMetersPerSecond(math.NaN()), Slope: math.NaN(), BarrierPass: geo.Share(math.NaN()), LocalArea: geo.SquareKilometers(math.NaN()),
		}
		at := orb.Point{-40 + r.Float64(), -33 + r.Float64()}
		for range 200 {
			at = orb.Point{at[0] + r.Float64()*1e-3, at[1] + r.NormFloat64()*1e-3}
			l.Path = append(l.Path, at)
		}
		lines[i] = l
	}
	return lines
}

// The same streams from another file: what another format changes does not change the digest.
func TestDigestIsOfTheWaterAndNotOfItsFile(t *testing.T) {
	lines := someLines(9)
	want := Digest(lines)
	same := map[string]func([]Centerline){
		"another order": func(l []Centerline) { slices.Reverse(l) },
		"other ids":     func(l []Centerline) { l[2].ID, l[2].File, l[2].Row = "elsewhere-2", "other.shp", 7 },
		"7 decimals": func(l []Centerline) {
			for i := range l {
				l[i].Path = rounded(l[i].Path, digestDecimals)
			}
		},
		"back from a projection": func(l []Centerline) { // moves by nanometres, which cross a rounding boundary once in 10 million
			for i := range l {
				l[i].Path = slices.Clone(l[i].Path)
				for k := range l[i].Path {
					l[i].Path[k][0] += 3e-15
				}
			}
		},
		"a corner drawn twice": func(l []Centerline) { l[0].Path = slices.Insert(slices.Clone(l[0].Path), 5, l[0].Path[4]) },
		"a column of decimals": func(l []Centerline) {
			l[0].MeanVelocity = geo.MetersPerSecond(math.Round(float64(l[0].MeanVelocity*1e11)) / 1e11)
		},
		"zero of either sign": func(l []Centerline) { l[0].Length = 0 * -1 },
		"a turn on":           func(l []Centerline) { l[0].Path = turned(l[0].Path) },
	}
	for name, change := range same {
		other := slices.Clone(lines)
		change(other)
		if Digest(other) != want {
			t.Errorf("%s: told as other streams", name)
		}
	}
	truly := map[string]func([]Centerline){
		"one less":       func(l []Centerline) { l[0] = l[1] },
		"turned":         func(l []Centerline) { l[0].Path = slices.Clone(l[0].Path); slices.Reverse(l[0].Path) },
		"5 decimals":     func(l []Centerline) { l[0].Path = rounded(l[0].Path, 5) },
		"moved by 20 cm": func(l []Centerline) { l[0].Path = slices.Clone(l[0].Path); l[0].Path[7][1] += 2e-6 },
		"another name":   func(l []Centerline) { l[0].Name = "Other Water" },
		"wider":          func(l []Centerline) { l[0].BankfullWidth = 8.2 },
		"faster":         func(l []Centerline) { l[0].MeanVelocity *= 1.0001 },
		"not recorded":   func(l []Centerline) { l[0].Discharge = geo.CubicMetersPerSecond(math.NaN()) },
		"a dam":          func(l []Centerline) { l[0].Barrier = Dam },
		"a share":        func(l []Centerline) { l[0].FlowShare = 0.4 },
		"a node":         func(l []Centerline) { l[0].ToNode = "17" },
		"dry":            func(l []Centerline) { l[0].Permanence = Intermittent },
		"a coast":        func(l []Centerline) { l[0].Coast = true },
		"a shorter one":  func(l []Centerline) { l[0].Path = l[0].Path[1:] },
	}
	met := map[string]string{want: "as it was"}
	for name, change := range truly {
		other := slices.Clone(lines)
		change(other)
		sum := Digest(other)
		if before, there := met[sum]; there {
			t.Errorf("%s is told as the streams %s", name, before)
		}
		met[sum] = name
	}
	if Digest(nil) != "" {
		t.Error("no streams have a digest")
	}
}

func turned(path orb.LineString) orb.LineString {
	out := rounded(path, digestDecimals)
	for i := range out {
		out[i][0] += 360
	}
	return out
}

// A ring may begin anywhere and run in either direction; holes and parts may come in any order.
func TestDigestOfSurfacesAndBarriers(t *testing.T) {
	outer := orb.Ring{{-40, -33}, {-39.9, -33}, {-39.9, -32.9}, {-40, -32.9}, {-40, -33}}
	one := orb.Ring{{-39.99, -32.99}, {-39.98, -32.99}, {-39.98, -32.98}, {-39.99, -32.99}}
	two := orb.Ring{{-39.95, -32.95}, {-39.94, -32.95}, {-39.94, -32.94}, {-39.95, -32.95}}
	far := orb.Ring{{-38, -33}, {-37.9, -33}, {-37.9, -32.9}, {-38, -33}}
	back := func(r orb.Ring) orb.Ring { r = slices.Clone(r); slices.Reverse(r); return r }
	begun := orb.Ring{outer[2], outer[3], outer[0], outer[1], outer[2]}
	of := func(kind SurfaceKind, areas ...orb.Polygon) string {
		return DigestSurfaces([]Surface{{ID: "w", Kind: kind, Areas: areas}})
	}
	want := of(Lake, orb.Polygon{outer, one, two}, orb.Polygon{far})
	for name, got := range map[string]string{
		"begun elsewhere":  of(Lake, orb.Polygon{begun, one, two}, orb.Polygon{far}),
		"the other way":    of(Lake, orb.Polygon{back(outer), back(one), two}, orb.Polygon{back(far)}),
		"in another order": of(Lake, orb.Polygon{far}, orb.Polygon{outer, two, one}),
	} {
		if got != want {
			t.Errorf("%s: told as other water", name)
		}
	}
	for name, got := range map[string]string{
		"a river":      of(River, orb.Polygon{outer, one, two}, orb.Polygon{far}),
		"a hole less":  of(Lake, orb.Polygon{outer, one}, orb.Polygon{far}),
		"a hole apart": of(Lake, orb.Polygon{outer, one}, orb.Polygon{two}, orb.Polygon{far}),
	} {
		if got == want {
			t.Errorf("%s: told as the same water", name)
		}
	}
	dam := Structure{ID: "d", Position: orb.Point{-40.00000004, -33}, Kind: Dam, Pass: geo.Share(math.NaN())}
	again, other := dam, dam
	again.ID, again.Position[0], again.Line = "x", -40, 3
	other.Pass = 0.3
	first := DigestStructures([]Structure{dam})
	if DigestStructures([]Structure{again}) != first || DigestStructures([]Structure{other}) == first {
		t.Error("barriers")
	}
}

// Positions with eight decimals that end in 5: near these, a product by 10^7 may round to either
// side. The steps must be those of a text with seven decimals.
func TestStepsAreThoseOfTheText(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	for range 20_000 {
		degrees := float64(r.Int64N(36e8)*10+5-18e9) / 1e8
		if r.IntN(2) == 0 {
			degrees = math.Nextafter(degrees, 0)
		}
		written, err := strconv.ParseFloat(strconv.FormatFloat(degrees, 'f', digestDecimals, 64), 64)
		if err != nil || steps(degrees) != steps(written) {
			t.Fatalf("%v: %d steps, %d of what is written of it", degrees, steps(degrees), steps(written))
		}
	}
}

func BenchmarkDigest(b *testing.B) {
	lines := someLines(100)
	b.ResetTimer()
	for range b.N {
		Digest(lines)
	}
}
