package shape

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// Rings come in the same order packed and unpacked, also while other rings are gone through, and as
// many as are asked for.
func TestRings(t *testing.T) {
	square := func(x, side float64) orb.Ring {
		return orb.Ring{{x, 0}, {x + side, 0}, {x + side, side}, {x, side}, {x, 0}}
	}
	mp := orb.MultiPolygon{{square(0, 9), square(1, 2), square(4, 3)}, {square(20, 5)}}
	packed := PackOnSteps(mp, 1)
	type one struct {
		outer bool
		ring  orb.Ring
	}
	want := []one{{true, mp[0][0]}, {false, mp[0][1]}, {false, mp[0][2]}, {true, mp[1][0]}}
	same := func(a, b one) bool { return a.outer == b.outer && slices.Equal(a.ring, b.ring) }
	var plain, unpacked []one
	for outer, ring := range Rings(mp) {
		plain = append(plain, one{outer, ring})
	}
	for outer, ring := range packed.Rings() {
		for range packed.Rings() { // has room of its own
			break
		}
		unpacked = append(unpacked, one{outer, slices.Clone(ring)})
	}
	if !slices.EqualFunc(plain, want, same) {
		t.Errorf("%v, want %v", plain, want)
	}
	if !slices.EqualFunc(unpacked, want, same) {
		t.Errorf("packed: %v, want %v", unpacked, want)
	}
	for outer, ring := range packed.Rings() {
		if !outer || !slices.Equal(ring, mp[0][0]) {
			t.Errorf("first: %v, %v", outer, ring)
		}
		break
	}
}
