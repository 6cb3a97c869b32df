package survey

import (
	"math"

	"github.com/paulmach/orb"
)

// placeHash hashes a position to 64 bits. The multipliers are those of the finalizer of SplitMix64
// (Steele, Lea and Flood 2014, Fast splittable pseudorandom number generators).
func placeHash(p orb.Point) uint64 {
	h := math.Float64bits(p[0]+0)*0xbf58476d1ce4e5b9 ^ math.Float64bits(p[1]+0) // + 0 turns -0 into 0
	h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
	h = (h ^ h>>27) * 0x94d049bb133111eb
	return h ^ h>>31
}
