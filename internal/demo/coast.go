package demo

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// coastSteps is the number of vertices of the coast. Our choice.
const coastSteps = 360

// growCoast returns a coast around all streams, counter-clockwise and in metres, that passes exactly
// through the river mouth. In every direction from the middle it is a little beyond the farthest stream
// near that direction.
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

// reachOfStreams returns, by direction, the greatest distance from the middle to any stream near that
// direction, at least 9 km. It is smoothed over 18 degrees, so that the coast has wide bays.
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

// waves returns a curve between 0 and about 3 km, for headlands and bays.
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

// putMouth inserts the mouth between the two vertices on either side of it.
func putMouth(ring orb.Ring, toMouth float64) orb.Ring {
	for i, p := range ring {
		if math.Atan2(p[1], p[0]) > toMouth {
			return append(ring[:i:i], append(orb.Ring{mouth}, ring[i:]...)...)
		}
	}
	return append(ring, mouth)
}
