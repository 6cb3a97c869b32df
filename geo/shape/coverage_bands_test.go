package shape

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// The truth is the same polygon looked at run by run.
func TestBandsChangeNoAnswer(t *testing.T) {
	shapes := manySided()
	spikes := 0
	shapes["tall star"] = orb.MultiPolygon{{roundBy(orb.Point{0, 0}, 6000, func(float64) float64 {
		spikes++
		return []float64{5, 90}[spikes%2]
	})}}
	shapes["fine"] = orb.MultiPolygon{{roundBy(orb.Point{3, 4}, 9000, func(a float64) float64 { return 60 + 20*math.Sin(7*a) })}}
	banded := 0
	for name, mp := range shapes {
		for _, polygon := range mp {
			one := &NewCoverage([]orb.MultiPolygon{{polygon}}).polygons[0]
			if one.bands == nil {
				continue
			}
			banded++
			runs := 0
			for i := range one.rings {
				runs += len(one.rings[i].runs)
			}
			if n := len(one.bands.runs); n > (shareRun+3)*runs {
				t.Errorf("%s: %d runs in bands for %d runs", name, n, runs)
			}
			plain := *one
			plain.bands = nil
			random := rand.New(rand.NewPCG(7, 8))
			box := polygon[0].Bound().Pad(10)
			for range 3000 {
				at := orb.Point{box.Min[0] + random.Float64()*(box.Max[0]-box.Min[0]), box.Min[1] + random.Float64()*(box.Max[1]-box.Min[1])}
				if random.IntN(3) == 0 { // on an outline
					ring := polygon[random.IntN(len(polygon))]
					at = ring[random.IntN(len(ring))]
				}
				size := []float64{0, 0, 0.01, 1, 30}[random.IntN(5)]
				asked := orb.Bound{Min: at, Max: orb.Point{at[0] + size*random.Float64(), at[1] + size*random.Float64()}}
				met, inside := one.meets(asked)
				wantMet, wantInside := plain.meets(asked)
				if met != wantMet || inside != wantInside {
					t.Fatalf("%s, %v: %v, %v in bands, %v, %v without", name, asked, met, inside, wantMet, wantInside)
				}
			}
		}
	}
	if banded < 3 {
		t.Errorf("%d polygons had bands", banded)
	}
}

// The truth is the polygon library's check.
func TestProvedValidOnlyWhatIsValid(t *testing.T) {
	proved := 0
	for name, mp := range manySided() {
		variants := map[string]orb.MultiPolygon{"as it is": mp}
		ring := mp[0][0]
		crossed := mp.Clone() // two corners exchanged: the ring crosses itself
		crossed[0][0][len(ring)/3], crossed[0][0][2*len(ring)/3] = ring[2*len(ring)/3], ring[len(ring)/3]
		variants["crossed"] = crossed
		variants["twice"] = append(mp.Clone(), mp[0].Clone())
		outside := mp.Clone()
		outside[0] = append(outside[0], roundBy(orb.Point{9e5, 0}, 16, func(float64) float64 { return 5 }))
		variants["hole outside"] = outside
		within := mp.Clone()
		middle, _ := Amid(mp[:1])
		variants["polygon in a polygon"] = append(within, orb.Polygon{roundBy(middle, 16, func(float64) float64 { return 0.01 })})
		spike := mp.Clone()
		spike[0][0] = append(append(spike[0][0][:2:2], orb.Point{ring[1][0] + 0.1, ring[1][1] + 0.2}), ring[1:]...)
		variants["a fold"] = spike
		for variant, mp := range variants {
			t.Run(fmt.Sprint(name, " ", variant), func(t *testing.T) {
				mp = normalize(mp.Clone())
				err := toGeometry(mp).Validate()
				if got := provedValid(mp); got && err != nil {
					t.Errorf("proved valid, the library: %v", err)
				} else if got {
					proved++
				}
			})
		}
	}
	if proved < 4 {
		t.Errorf("only %d proved", proved)
	}
}
