package demo

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// state is what a crew finds at a patch in one quarter.
type state int

const (
	unseen   state = iota // not yet there, or nobody knows of it: no record
	live                  // untreated
	treated               // treated this quarter
	dead                  // standing dead
	sprouted              // resprout
	gone                  // looked for and not found
)

// story is the history of a colony, a state a quarter.
type story [4]state

// The histories. A story's resprouting quarters hold only for some of its
// patches; the others stay dead (see patchState).
var (
	leftAlone    = story{live, live, live, live}
	firstWork    = story{treated, dead, sprouted, treated}
	secondWork   = story{live, treated, dead, sprouted}
	thirdWork    = story{live, live, treated, dead}
	pulled       = story{live, gone, gone, gone}
	pulledAgain  = story{live, gone, sprouted, gone}
	washedAway   = story{live, live, gone, gone}
	foundAutumn  = story{unseen, unseen, live, live}
	foundWinter  = story{unseen, unseen, unseen, live}
	foundSummer  = story{unseen, live, live, live}
	gardenPlants = story{live, live, treated, dead}
)

// giveStories gives the colonies of a shore, source side first, their
// histories: the programme works down the Orvenna and its creeks from the top.
func giveStories(r *rand.Rand, code string, here []colony) {
	for i := range here {
		here[i].story = storyOf(r, code, i, len(here[i].patches) == 1)
		here[i].youngIfPulled(r)
	}
}

// youngIfPulled makes the plants of a colony that is pulled by hand as small
// as hands can pull: 1 to 8 square metres, canes of a year.
func (c *colony) youngIfPulled(r *rand.Rand) {
	if c.story != pulled && c.story != pulledAgain {
		return
	}
	for k := range c.patches {
		c.patches[k].area = 1 + 7*r.Float64()
		c.patches[k].height = 1 + r.Float64()
		c.patches[k].measure = byDiameter
	}
}

func storyOf(r *rand.Rand, code string, turn int, single bool) story {
	if single {
		return []story{leftAlone, leftAlone, pulled, pulledAgain, washedAway, foundSummer}[r.IntN(6)]
	}
	switch code {
	case "GAR", "LUP":
		return firstWork
	case "ORV":
		return []story{firstWork, firstWork, firstWork, firstWork, secondWork, secondWork,
			secondWork, secondWork, thirdWork, thirdWork, thirdWork}[min(turn, 10)]
	case "TAM":
		return thirdWork
	case "RUD", "NAV":
		return secondWork
	}
	return leftAlone
}

// patchState returns what a crew finds at one patch of a colony.
func (c colony) patchState(which, quarter int) state {
	if c.code != "" && !visited(c.code, quarter) {
		return unseen
	}
	s := c.story[quarter]
	switch {
	case len(c.patches) == 1:
		return s
	case s == sprouted && which%3 != 0:
		return dead // two patches in three stay down after one treatment, our choice
	case s == treated && c.everSprouted(quarter) && which%3 != 0:
		return dead // only the resprouts are treated again
	}
	return s
}

// everSprouted says whether the colony resprouted before a quarter.
func (c colony) everSprouted(quarter int) bool {
	for q := range quarter {
		if c.story[q] == sprouted {
			return true
		}
	}
	return false
}

// arrivals are small colonies that rooted from fragments of live ones, 150 m
// to 1.3 km downstream of them.
func arrivals(r *rand.Rand, land country, parents []colony) []colony {
	var young []colony
	for i, p := range parents {
		if p.story != leftAlone || len(p.patches) < 6 || i%3 == 0 {
			continue
		}
		c := land.courses[courseIndex(land.courses, p.code)]
		down := p.down + 16*float64(len(p.patches)) + 150 + 1150*r.Float64()
		if down > c.length()-50 {
			continue
		}
		child := riverside(r, land, c, down, 1+r.IntN(4))
		for k := range child.patches {
			child.patches[k].area *= 0.15
			child.patches[k].height = 2 + r.Float64()
			child.patches[k].measure = byDiameter
		}
		child.story = []story{foundAutumn, foundWinter}[r.IntN(2)]
		young = append(young, child)
	}
	return young
}

// drySite is a stand away from the water.
type drySite struct {
	size  int
	row   bool // along a road rather than about a garden
	story story
}

// drySites belong to the names in places.
var drySites = []drySite{
	{9, false, gardenPlants},
	{11, true, leftAlone},
	{7, true, leftAlone},
	{5, false, secondWork},
	{6, true, thirdWork},
	{1, false, pulled},
	{1, false, leftAlone},
}

// dryLand are stands at gardens and along roads, 450 m from any stream or, for
// the far end of a row, still 150 m and more.
func dryLand(r *rand.Rand, land country) []colony {
	var all []colony
	for i, s := range drySites {
		col := colony{place: places[i], parcel: parcel(r), story: s.story}
		at := drySpot(r, land)
		heading := 2 * math.Pi * r.Float64()
		for range s.size {
			col.patches = append(col.patches, newPatch(r, at))
			if !s.row {
				heading = 2 * math.Pi * r.Float64()
			}
			at = ahead(at, heading+0.1*r.NormFloat64(), 12+8*r.Float64())
		}
		col.youngIfPulled(r)
		all = append(all, col)
	}
	return all
}

// drySpot draws a place within 8 km of the middle, which is well inland, with
// no stream within 450 m.
func drySpot(r *rand.Rand, land country) orb.Point {
	for {
		p := ahead(orb.Point{}, 2*math.Pi*r.Float64(), 8000*math.Sqrt(r.Float64()))
		wet := false
		for _, c := range land.courses {
			wet = wet || crowded(c.path, p, 450)
		}
		if !wet {
			return p
		}
	}
}
