package demo

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"
)

// crossing is a structure on the water. Its place on a course, as the share of the length from the
// mouth, is converted to metres from the source.
type crossing struct {
	code string  // course
	at   float64 // share of the length from its mouth
	kind string  // value of the barrier column
	pass float64 // share of floating fragments that passes
}

// The barriers recorded on centerlines. Pass shares are our choice. They are near the program's own
// assumed ones but not equal, so that a map shows which were recorded.
var (
	dam       = crossing{"TUL", 0.34, "dam", 0.2}
	weir      = crossing{"ISK", 0.115, "weir", 0.75}
	culvert   = crossing{"GAR", 0.13, "culvert", 0.9}
	crossings = []crossing{dam, weir, culvert}
)

// reservoirLength is how far the lake extends behind the dam and reservoirWidth its width, in metres.
// Our choice.
const (
	reservoirLength = 1500
	reservoirWidth  = 160
)

// cutLines cuts the courses at confluences, barriers, the ends of the reservoir and the braid, and sets
// the order and width of every piece.
func cutLines(r *rand.Rand, courses []course) []line {
	var lines []line
	for i, c := range courses {
		cuts := cutsOf(courses, i)
		var braid braid
		if c.into == "" {
			braid = findBraid(r, c, cuts)
			cuts = append(cuts, braid.from, braid.to)
		}
		lines = append(lines, cutCourse(c, cuts)...)
		if c.into == "" {
			lines = addBraid(lines, c, braid)
		}
	}
	markBarriers(lines, courses)
	gradeLines(lines)
	roughen(r, lines)
	return lines
}

// cutsOf returns the vertices at which a course is cut, without its ends.
func cutsOf(courses []course, which int) []int {
	c := courses[which]
	var cuts []int
	for _, other := range courses {
		if other.into == c.code {
			cuts = append(cuts, slices.Index(c.path, other.path[len(other.path)-1]))
		}
	}
	for _, x := range crossings {
		if x.code == c.code {
			cuts = append(cuts, vertexAt(c, x.at))
		}
	}
	if c.code == dam.code {
		cuts = append(cuts, headOfReservoir(c))
	}
	return cuts
}

func headOfReservoir(c course) int {
	return vertexAt(c, dam.at+reservoirLength/c.length())
}

// cutCourse returns the pieces of a course, numbered from its mouth up.
func cutCourse(c course, cuts []int) []line {
	cuts = append(slices.Clone(cuts), 0, len(c.path)-1)
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var lines []line
	for i := len(cuts) - 1; i > 0; i-- {
		lines = append(lines, line{
			id:   fmt.Sprintf("%s-%02d", c.code, len(lines)+1),
			name: c.name,
			path: c.path[cuts[i-1] : cuts[i]+1],
		})
	}
	return lines
}

// markBarriers records each barrier on the line that ends at it.
func markBarriers(lines []line, courses []course) {
	for _, x := range crossings {
		c := courses[courseIndex(courses, x.code)]
		at := c.path[vertexAt(c, x.at)]
		for i := range lines {
			l := &lines[i]
			if l.path[len(l.path)-1] != at {
				continue
			}
			l.barrier, l.pass = x.kind, x.pass
			if x == dam {
				l.name, l.width = reservoirName, reservoirWidth
			}
		}
	}
}

func courseIndex(courses []course, code string) int {
	return slices.IndexFunc(courses, func(c course) bool { return c.code == code })
}

// gradeLines sets upstream length, order and width, from the sources downstream.
func gradeLines(lines []line) {
	ending := map[orb.Point][]int{}
	for i, l := range lines {
		end := l.path[len(l.path)-1]
		ending[end] = append(ending[end], i)
	}
	for i := range lines {
		grade(lines, ending, i)
	}
}

// grade does this for one line and all above it. Orders are Strahler's, except that the minor channel
// of a braid never raises the order below it.
func grade(lines []line, ending map[orb.Point][]int, which int) {
	l := &lines[which]
	if l.order > 0 {
		return
	}
	top, twice := 0, false
	for _, up := range ending[l.path[0]] {
		grade(lines, ending, up)
		u := lines[up]
		if u.branch == 2 {
			continue
		}
		l.upstream += u.upstream
		twice = u.order == top || twice && u.order < top
		top = max(top, u.order)
	}
	l.order = max(1, top)
	if twice {
		l.order++
	}
	for i := 1; i < len(l.path); i++ {
		l.upstream += span(l.path[i-1], l.path[i]) / 1000
	}
}

// roughen sets the widths that no plan gives: bankfull, varied by 12 % as measured widths scatter (our
// choice), to 0.1 m.
func roughen(r *rand.Rand, lines []line) {
	for i := range lines {
		l := &lines[i]
		if l.width > 0 {
			continue
		}
		w := max(1.2, bankfull(l.upstream)*(1+0.12*(2*r.Float64()-1)))
		if l.branch > 0 {
			w *= math.Sqrt(l.share)
		}
		l.width = math.Round(w*10) / 10
	}
}
