package demo

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// coastSteps is how many vertices the coast has. Our choice.
const coastSteps = 360

// growCoast returns a coast about all streams that meets the sea exactly at
// the mouth, counter-clockwise, in metres. It is a star about the middle: in
// every direction as far as the farthest stream thereabouts, and some more.
func growCoast(r *rand.Rand, courses []course) orb.Ring {
	need := reachOfStreams(courses)
	toMouth := math.Atan2(mouth[1], mouth[0])
	wave := waves(r)
	var ring orb.Ring
	for i := range coastSteps {
		phi := (float64(i)+0.5)/coastSteps*2*math.Pi - math.Pi
		off := math.Abs(math.Remainder(phi-toMouth, 2*math.Pi))
		margin := (600 + wave(phi)) * min(1, off/0.3)
		ring = append(ring, ahead(orb.Point{}, phi, need[i]+margin))
	}
	ring = putMouth(ring, toMouth)
	return append(ring, ring[0])
}

// reachOfStreams returns by direction the greatest distance from the middle of
// any stream thereabouts, no less than 9 km, evened out over 18 degrees so
// that the coast runs in wide bays.
func reachOfStreams(courses []course) [coastSteps]float64 {
	const window, even = 18, 9
	var need, smooth [coastSteps]float64
	for i := range need {
		need[i] = 9000
	}
	for _, c := range courses {
		for _, p := range c.path {
			at := int((math.Atan2(p[1], p[0]) + math.Pi) / (2 * math.Pi) * coastSteps)
			for k := -window; k <= window; k++ {
				j := (at + k + coastSteps) % coastSteps
				need[j] = max(need[j], math.Hypot(p[0], p[1]))
			}
		}
	}
	for i := range smooth {
		for k := -even; k <= even; k++ {
			smooth[i] += need[(i+k+coastSteps)%coastSteps] / (2*even + 1)
		}
	}
	return smooth
}

// waves returns a shape between 0 and some 3 km: headlands and bays.
func waves(r *rand.Rand) func(phi float64) float64 {
	var phase [7]float64
	for i := range phase {
		phase[i] = 2 * math.Pi * r.Float64()
	}
	return func(phi float64) float64 {
		sum := 1.0
		for i, p := range phase {
			n := float64(3 + 2*i*i)
			sum += math.Sin(n*phi+p) / (1.4 + float64(i))
		}
		return max(0, 1000*sum)
	}
}

// putMouth adds the mouth between the two vertices on either side of it.
func putMouth(ring orb.Ring, toMouth float64) orb.Ring {
	for i, p := range ring {
		if math.Atan2(p[1], p[0]) > toMouth {
			return append(ring[:i:i], append(orb.Ring{mouth}, ring[i:]...)...)
		}
	}
	return append(ring, mouth)
}
