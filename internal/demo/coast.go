package demo

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// coastSteps is how many vertices the coast has. Our choice.
const coastSteps = 180

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
		margin := (1500 + wave(phi)) * min(1, off/0.3)
		ring = append(ring, ahead(orb.Point{}, phi, need[i]+margin))
	}
	ring = putMouth(ring, toMouth)
	return append(ring, ring[0])
}

// reachOfStreams returns by direction the greatest distance from the middle of
// any stream within some steps of it, no less than 6 km.
func reachOfStreams(courses []course) [coastSteps]float64 {
	var need [coastSteps]float64
	for i := range need {
		need[i] = 6000
	}
	for _, c := range courses {
		for _, p := range c.path {
			at := int((math.Atan2(p[1], p[0]) + math.Pi) / (2 * math.Pi) * coastSteps)
			for k := -7; k <= 7; k++ {
				fade := 1 - 0.03*math.Abs(float64(k))
				j := (at + k + coastSteps) % coastSteps
				need[j] = max(need[j], fade*math.Hypot(p[0], p[1]))
			}
		}
	}
	return need
}

// waves returns a shape between 0 and some 2.5 km: headlands and bays.
func waves(r *rand.Rand) func(phi float64) float64 {
	var phase [4]float64
	for i := range phase {
		phase[i] = 2 * math.Pi * r.Float64()
	}
	return func(phi float64) float64 {
		sum := 1.0
		for i, p := range phase {
			n := float64(3 + 4*i)
			sum += math.Sin(n*phi+p) / (1.5 + float64(i))
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
