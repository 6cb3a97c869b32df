package demo

import (
	"fmt"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// colony is a group of patches that stand as one.
type colony struct {
	name    string  // of the walk and a number, for the truth
	walk    string  // what a crew must go to see it
	code    string  // course it stands on; blank for a place on dry land
	down    float64 // metres down that course from its source, where it begins
	place   string  // what a crew calls it
	parcel  string
	story   story
	patches []patch

	joins  int // place in the list of the colony it grows together with
	joined int // quarter from which the two stand as one; 0 for never
	parted int // quarter from which it stands in two; 0 for never
}

// settlement is the country while colonies take their places in it.
type settlement struct {
	r    *rand.Rand
	land country
	all  []colony
}

// colonise places every colony of the country and gives it its story. Those of
// which most is told come first and have the choice of places.
func colonise(r *rand.Rand, land country) []colony {
	s := &settlement{r: r, land: land}
	s.growTogether()
	s.fallApart()
	for _, sh := range shores {
		s.settleShore(sh)
	}
	s.arrive()
	s.dryLand()
	for i := range s.all {
		s.all[i].name = fmt.Sprintf("%s %02d", s.all[i].walk, i+1)
	}
	return s.all
}

// add gives a colony its story and its patches theirs.
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

// sprouting returns how many patches of a colony resprout after treatment, those
// that stand first along the bank: a third, our choice, and never two, which
// would be too few for a stand and too many for a single find.
func sprouting(n int) int {
	if n < 9 {
		return 1
	}
	return n / 3
}

// youngIfPulled makes the plants of a colony that is pulled by hand as small
// as hands can pull: 1 to 6 square metres at first, which grow to 10 at most,
// canes of a year.
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

// stateOf returns what a crew finds at one patch in a quarter. What was gone the
// quarter before is looked for again at every third place.
func (c colony) stateOf(which, quarter int) state {
	p := c.patches[which].past
	if !visited(c.walk, quarter) || quarter > 0 && which%3 > 0 && p[quarter] == gone && p[quarter-1] == gone {
		return unseen
	}
	return p[quarter]
}

// middlePatch returns the patch nearest the middle of some: a place on the stand, as
// the middle itself may lie in the river.
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
