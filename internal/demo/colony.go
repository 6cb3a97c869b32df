package demo

import (
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// colony is a group of patches that forms one stand.
type colony struct {
	name    string  // name of the walk and a number, for Truth
	walk    string  // the walk on which a crew sees it
	code    string  // course it grows on; blank on dry land
	down    float64 // where it begins: metres down that course from its source
	place   string  // the crew's name for the place
	parcel  string
	story   story
	patches []patch

	joins  int // index of the colony it grows together with
	joined int // quarter from which the two are one stand; 0 for never
	parted int // quarter from which it is two stands; 0 for never
}

// settlement is the country while colonies are being placed in it.
type settlement struct {
	r    *rand.Rand
	land country
	all  []colony
}

// storyOfOne draws the story of a single find. It has no work in a quarter in which the walk was not
// surveyed.
func (s *settlement) storyOfOne(walk string) story {
	some := []story{leftAlone, leftAlone, pulledFirst, pulled, pulledLate, pulledAgain, washedAway, sprayedOnce, foundSummer}
	for {
		one := some[s.r.IntN(len(some))]
		if one.canBe(walk) {
			return one
		}
	}
}

// add gives a colony and its patches their histories.
func (s *settlement) add(c colony, told story) {
	c.story = told
	third := sprouting(len(c.patches))
	for k := range c.patches {
		c.patches[k].past = told.most
		if k < third {
			c.patches[k].past = told.third
		}
	}
	c.youngIfPulled(s.r)
	s.all = append(s.all, c)
}

// sprouting returns how many patches of a colony resprout after treatment, the first ones along the
// bank. Our choice: a third, but never two, which would be too few for a stand and too many for a
// single find.
func sprouting(n int) int {
	if n < 9 {
		return 1
	}
	return n / 3
}

// youngIfPulled makes the plants of a colony that is pulled by hand small enough for that: canes of one
// year on 1 to 6 square metres at first, growing to 10 at most.
func (c *colony) youngIfPulled(r *rand.Rand) {
	if !c.story.hand {
		return
	}
	for k := range c.patches {
		c.patches[k].area = 1 + 5*r.Float64()
		c.patches[k].height = 1 + r.Float64()
		c.patches[k].measure = byDiameter
	}
}

// stateOf returns what a crew finds at one patch in a quarter. Of the places where the plant was gone a
// quarter earlier, every third is searched again.
func (c colony) stateOf(which, quarter int) state {
	p := c.patches[which].past
	if !visited(c.walk, quarter) || quarter > 0 && which%3 > 0 && p[quarter] == gone && p[quarter-1] == gone {
		return unseen
	}
	return p[quarter]
}

// middlePatch returns the patch nearest the middle of some patches. The middle itself may be in the
// river.
func middlePatch(some []patch) orb.Point {
	var sum orb.Point
	for _, p := range some {
		sum = add(sum, p.at)
	}
	n := float64(len(some))
	best := some[0].at
	for _, p := range some {
		if m := (orb.Point{sum[0] / n, sum[1] / n}); span(p.at, m) < span(best, m) {
			best = p.at
		}
	}
	return best
}

func parcel(r *rand.Rand) string {
	const digits = "0123456789"
	b := []byte("P-0000")
	for i := 2; i < len(b); i++ {
		b[i] = digits[r.IntN(10)]
	}
	return string(b)
}
