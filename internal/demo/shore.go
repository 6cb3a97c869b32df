package demo

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// shore is an infested stretch of a course, with the numbers of its colonies and single finds. Shares
// are of the course's length, from the mouth.
type shore struct {
	code          string
	walk          string // surveyed as a whole or not at all
	from, to      float64
	colonies, few int
}

// shores are our choice: most are on the Orvenna, where the plant was introduced, and on the largest
// river below it. Single finds are ahead of the stands.
var shores = []shore{
	{"ORV", "ORV", 0.03, 0.72, 14, 4},
	{"ISK", lowerIskarrow, 0.01, 0.30, 12, 3},
	{"ISK", upperIskarrow, 0.31, 0.80, 3, 4},
	{"GAR", "GAR", 0.05, 0.80, 3, 1},
	{"LUP", "LUP", 0.05, 0.70, 3, 1},
	{"TAM", "TAM", 0.05, 0.60, 2, 1},
	{"KES", "KES", 0.03, 0.60, 3, 1},
	{"FEN", "FEN", 0.05, 0.50, 2, 1},
	{"POM", "POM", 0.05, 0.60, 2, 2},
	{"TUL", "TUL", 0.02, 0.80, 4, 3},
	{"RUD", "RUD", 0.10, 0.80, 2, 1},
	{"NAV", "NAV", 0.05, 0.60, 1, 1},
	{"VES", "VES", 0.05, 0.70, 3, 2},
	{"CLO", "CLO", 0.10, 0.80, 1, 1},
}

// shoreOf returns the shore of a walk.
func shoreOf(walk string) shore {
	return shores[slices.IndexFunc(shores, func(s shore) bool { return s.walk == walk })]
}

// settleShore places colonies at uneven distances, from the source down, and single finds between them.
func (s *settlement) settleShore(sh shore) {
	n := sh.colonies + sh.few
	single := make([]bool, n)
	for i := range sh.few {
		single[(i*n+n/2)/max(1, sh.few)] = true
	}
	long := s.land.courses[courseIndex(s.land.courses, sh.code)].length()
	turn := 0
	for i := range n {
		share := sh.to - (sh.to-sh.from)*(float64(i)+0.15+0.7*s.r.Float64())/float64(n)
		size := 1
		if !single[i] {
			size = s.standSize()
		}
		c, ok := s.riverside(sh, long*(1-share), size, nil)
		switch {
		case !ok:
		case size == 1:
			s.add(c, s.storyOfOne(sh.walk))
		default:
			s.add(c, storyOf(sh.walk, turn))
			turn++
		}
	}
}

// standSize draws the number of patches of a colony: lognormal around 6, from 3 to 28, so that a few
// colonies hold much of the plant. Our choice.
func (s *settlement) standSize() int {
	return int(min(28, max(3, math.Round(6*math.Exp(0.6*s.r.NormFloat64())))))
}

// apart is the smallest distance in metres between colonies: more than twice the distance at which
// points join into a stand, so that position errors join none. Our choice.
const apart = 75

// riverside places a colony with the given number of patches along a shore: at the given place or the
// first one downstream that has room and that accept allows. ok is false if there is none.
func (s *settlement) riverside(sh shore, down float64, size int, accept func([]patch) bool) (colony, bool) {
	c := s.land.courses[courseIndex(s.land.courses, sh.code)]
	first, last := c.length()*(1-sh.to), c.length()*(1-sh.from)
	col := colony{walk: sh.walk, code: sh.code, parcel: parcel(s.r), place: c.name}
	for range 120 {
		if down+25*float64(size) > last {
			down = first
		}
		col.down, col.patches = down, s.bank(c, down, size)
		if s.clear(col.patches) && (accept == nil || accept(col.patches)) {
			return col, true
		}
		down += 90
	}
	return col, false
}

// clear says whether patches keep their distance from all existing ones.
func (s *settlement) clear(patches []patch) bool {
	for _, p := range patches {
		for _, other := range s.all {
			for _, q := range other.patches {
				if span(p.at, q.at) < apart {
					return false
				}
			}
		}
	}
	return true
}

// bank draws patches along a bank, each within reach of the previous one.
func (s *settlement) bank(c course, down float64, size int) []patch {
	side, brook := 1.0, widthAt(s.land, c, down) < 5
	if s.r.IntN(2) == 0 {
		side = -1
	}
	// Some brooks are overgrown on both sides; along rivers a stand is on one side only.
	both := brook && s.r.IntN(3) == 0
	most := 18.0
	if both {
		most = 4
	}
	var out []patch
	before, off := down, 0.0
	for i := range size {
		if both && i%2 == 1 {
			side = -side
		}
		step, o := 11+9*s.r.Float64(), 1+min(most, 6*s.r.ExpFloat64())
		if i == 0 || both && i%2 == 1 {
			step = 0
		}
		at := s.beside(c, before+step, side*o)
		for range 12 {
			if i == 0 || span(at, out[i-1].at) < reach {
				break
			}
			step, o = 0.75*step, (o+off)/2
			at = s.beside(c, before+step, side*o)
		}
		before, off = min(before+step, c.length()-5), o
		out = append(out, newPatch(s.r, at))
	}
	return out
}

// reach is the largest distance in metres from one patch to the next: the distance at which points join
// into a stand, less the errors of two positions. Our choice.
const reach = 22

// beside returns a place at a distance from the water's edge, on the left if out is positive.
func (s *settlement) beside(c course, down, out float64) orb.Point {
	on, heading := c.at(down)
	wide := widthAt(s.land, c, down) / 2
	if out < 0 {
		wide = -wide
	}
	return ahead(on, heading+math.Pi/2, wide+out)
}

// widthAt returns the bankfull width at a distance down the path of a course.
func widthAt(land country, c course, down float64) float64 {
	i, _ := slices.BinarySearch(c.arc, down)
	at := c.path[min(i, len(c.path)-1)]
	for _, l := range land.lines {
		if l.branch != 2 && slices.Contains(l.path, at) {
			return l.width
		}
	}
	return bankfull(1)
}
