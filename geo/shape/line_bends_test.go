package shape

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// TestBendsByHand: a line of two segments of 100 m, 30 m to each side. On the outer side a bend of
// 5 degrees, less than the 9.2 of a chord with a sagitta of 0.1 m, has one corner; a bend of 20
// degrees has three, as many as chords; the inner side has one. Each cap is half a circle of 39
// chords: 20.
func TestBendsByHand(t *testing.T) {
	const r, caps = 30.0, 2 * 20
	for degrees, corners := range map[float64]int{0: 1 + 1, 5: 1 + 1, 9: 1 + 1, 10: 2 + 1, 20: 3 + 1} {
		for _, way := range []float64{1, -1} {
			sin, cos := math.Sincos(way * degrees * math.Pi / 180)
			line := orb.LineString{{0, 0}, {100, 0}, {100 + 100*cos, 100 * sin}}
			mp := DrawLines([]orb.LineString{line}, []geo.Meters{r}, 0.1, 1)
			if got := len(mp[0][0]) - 1; len(mp) != 1 || len(mp[0]) != 1 || got != caps+corners {
				t.Errorf("%g degrees: %d corners, want %d", way*degrees, got, caps+corners)
			}
			// without the loss on the inner side: a kite less a sector of the bend
			half := degrees * math.Pi / 360
			want := 2*r*200 + math.Pi*r*r + r*r*half - r*r*math.Tan(half)
			within(t, "area", Area(mp), want, 1e-7)
		}
	}
}

// TestBendsPointOutwards: the corners of a bend divide it evenly as seen from the node: n corners
// of a bend of d degrees are at d/2n, 3d/2n and so on from its beginning, whichever way the line
// runs, however near its ends are. Trimming them to the area moves them on their rays. By hand.
func TestBendsPointOutwards(t *testing.T) {
	const r = 30.0
	for _, heading := range []float64{0, 40, 90, 200, 290} {
		for _, degrees := range []float64{5, 9, 10, 20, 33} {
			for _, long := range []float64{100, 31} {
				n := math.Ceil(degrees / 360 * 39)
				place := func(angle, far float64) orb.Point {
					sin, cos := math.Sincos(angle * math.Pi / 180)
					return orb.Point{7 + far*cos, -5 + far*sin}
				}
				// it turns left, so that the outer side is on the right
				line := orb.LineString{place(heading+180, long), place(0, 0), place(heading+degrees, long)}
				mp := DrawLines([]orb.LineString{line}, []geo.Meters{r}, 0.1, 1)
				met := 0.0
				for _, p := range mp[0][0][1:] {
					angle := math.Mod(math.Atan2(p[1]+5, p[0]-7)*180/math.Pi-(heading-90)+720, 360)
					if angle < 1e-6 || angle > degrees-1e-6 {
						continue
					}
					met++
					if share := angle * n / degrees; math.Abs(share-math.Floor(share)-0.5) > 1e-6 {
						t.Errorf("heading %g, %g degrees: a corner at %g of %g parts", heading, degrees, share, n)
					}
					if far := math.Hypot(p[0]-7, p[1]+5); far < r || far > r+0.14 {
						t.Errorf("heading %g, %g degrees: a corner at %g m", heading, degrees, far)
					}
				}
				if met != n {
					t.Errorf("heading %g, %g degrees: %g corners, want %g", heading, degrees, met, n)
				}
			}
		}
	}
}

// TestBendsLieNear: outlines of wandering lines are within the sagitta of the true ones, at corners
// and between, and have their area. Where a line cuts an arc short, the one corner between two
// chords is four thirds of it outside.
func TestBendsLieNear(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 5))
	for range 60 {
		const r = 30.0
		sagitta := []float64{0.02, 0.1, 0.5}[rng.IntN(3)]
		heading := 0.0
		line := orb.LineString{{0, 0}}
		for range 20 {
			heading += 0.5 * rng.NormFloat64() * rng.Float64()
			sin, cos := math.Sincos(heading)
			length := 100 * rng.Float64() * rng.Float64()
			last := line[len(line)-1]
			line = append(line, orb.Point{last[0] + length*cos, last[1] + length*sin})
		}
		mp := DrawLines([]orb.LineString{line}, []geo.Meters{r}, geo.Meters(sagitta), 1)
		if err := Valid(mp); err != nil {
			t.Fatalf("%v: of %v", err, line)
		}
		for _, polygon := range mp {
			for _, ring := range polygon {
				for k := range len(ring) - 1 {
					for _, share := range []float64{0, 0.25, 0.5} {
						at := orb.Point{ring[k][0] + share*(ring[k+1][0]-ring[k][0]), ring[k][1] + share*(ring[k+1][1]-ring[k][1])}
						off := math.Inf(1)
						for i := range len(line) - 1 {
							off = min(off, math.Sqrt(pointToSegment(at, line[i], line[i+1])))
						}
						if off -= r; math.Abs(off) > 1.4*sagitta {
							t.Fatalf("%v lies %g m off, sagitta %g: of %v", at, off, sagitta, line)
						}
					}
				}
			}
		}
		within(t, "area", Area(mp), float64(Area(BufferLines([]orb.LineString{line}, []geo.Meters{r}, 4096, 1))), 5e-6*max(1, sagitta/0.1))
	}
}
