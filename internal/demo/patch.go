package demo

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// patch is one clump of plants with one survey point a quarter.
type patch struct {
	at      orb.Point // true position, metres
	area    float64   // square metres in its first quarter
	cover   float64   // canopy cover, percent
	height  float64   // metres
	measure measure   // how the crew measures it
	past    history   // its true state, surveyed or not
}

// measure is how a crew records the size of a patch.
type measure int

const (
	byEye      measure = iota // not measured: the program uses its default
	byArea                    // area from a device
	bySides                   // length and width
	byDiameter                // across
)

// newPatch draws a patch. Areas are lognormal with a median of about 110 square metres, a clump of a
// giant grass some years old; heights are 2 to 7 m. Our choice.
func newPatch(r *rand.Rand, at orb.Point) patch {
	kinds := []measure{byEye, byArea, byArea, bySides, bySides, bySides, byDiameter, byDiameter}
	return patch{
		at:      at,
		area:    min(1000, max(4, 110*math.Exp(0.8*r.NormFloat64()))),
		cover:   min(95, max(10, 62+20*r.NormFloat64())),
		height:  min(7, max(2, 4.5+1.1*r.NormFloat64())),
		measure: kinds[r.IntN(len(kinds))],
	}
}

// aYear and resprouts are growth factors. Live plants grow by a third of their area in a year;
// resprouts cover a third of the area treated. Our choice.
const aYear, resprouts = 1.33, 0.33

// areaIn returns a patch's square metres in a quarter. It grows while it is alive and keeps its size
// when dead.
func (p patch) areaIn(quarter int) float64 {
	lived := 0
	for _, s := range p.past[:quarter] {
		if s == live {
			lived++
		}
	}
	area := p.area * math.Pow(aYear, float64(lived)/4)
	if p.past[quarter] == sprouted {
		area *= resprouts
	}
	return area
}
