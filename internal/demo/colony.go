package demo

import (
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"
)

// patch is one clump of plants that gets one survey point a quarter.
type patch struct {
	at      orb.Point // metres, where it truly stands
	area    float64   // square metres in the first quarter
	cover   float64   // canopy cover, percent
	height  float64   // metres
	measure measure   // how the crew sizes it up
}

// measure is how a crew sizes up a patch.
type measure int

const (
	byEye      measure = iota // not measured: the program's default stands in
	byArea                    // area from a device
	bySides                   // length and width
	byDiameter                // across
)

// colony is a group of patches with one history.
type colony struct {
	code    string  // course it stands on; blank for a place on dry land
	down    float64 // metres down that course from its source, where it begins
	place   string  // what a crew calls it
	parcel  string
	story   story
	patches []patch
}

// shore is a stretch of a course that plants took, and how many colonies and
// single finds it has. Shares are of the length, counted from the mouth.
type shore struct {
	code          string
	from, to      float64
	colonies, few int
}

// shores are our choice: most on the Orvenna, where the plant was let loose,
// and on the largest river below it; single finds run ahead of the stands.
var shores = []shore{
	{"ORV", 0.03, 0.72, 14, 4},
	{"ISK", 0.01, 0.30, 15, 3},
	{"ISK", 0.31, 0.80, 3, 4},
	{"GAR", 0.05, 0.80, 3, 1},
	{"LUP", 0.05, 0.70, 3, 1},
	{"TAM", 0.05, 0.60, 2, 1},
	{"KES", 0.03, 0.60, 3, 1},
	{"FEN", 0.05, 0.50, 2, 1},
	{"POM", 0.05, 0.60, 2, 2},
	{"TUL", 0.02, 0.80, 4, 3},
	{"RUD", 0.10, 0.80, 2, 1},
	{"NAV", 0.05, 0.60, 1, 1},
	{"VES", 0.05, 0.70, 2, 2},
	{"CLO", 0.10, 0.80, 1, 1},
}

// colonise places every colony of the country and gives it its story.
func colonise(r *rand.Rand, land country) []colony {
	var all []colony
	for _, s := range shores {
		c := land.courses[courseIndex(land.courses, s.code)]
		here := settleShore(r, land, c, s)
		giveStories(r, s.code, here)
		all = append(all, here...)
	}
	all = append(all, arrivals(r, land, all)...)
	return append(all, dryLand(r, land)...)
}

// settleShore places colonies at uneven distances, source side first, and the
// single finds between them.
func settleShore(r *rand.Rand, land country, c course, s shore) []colony {
	n := s.colonies + s.few
	single := make([]bool, n)
	for i := range s.few {
		single[(i*n+n/2)/max(1, s.few)] = true
	}
	long := c.length()
	var here []colony
	for i := range n {
		share := s.to - (s.to-s.from)*(float64(i)+0.15+0.7*r.Float64())/float64(n)
		size := 1
		if !single[i] {
			size = standSize(r)
		}
		here = append(here, riverside(r, land, c, long*(1-share), size))
	}
	return here
}

// standSize draws how many patches a colony has: lognormal about 6, 3 to 28,
// so that a few colonies hold much of the plant. Our choice.
func standSize(r *rand.Rand) int {
	return int(min(28, max(3, math.Round(6*math.Exp(0.6*r.NormFloat64())))))
}

// riverside places a colony of so many patches along a course.
func riverside(r *rand.Rand, land country, c course, down float64, size int) colony {
	col := colony{code: c.code, down: down, parcel: parcel(r), place: c.name}
	side := 1.0
	if r.IntN(2) == 0 {
		side = -1
	}
	// Some brooks are overgrown on both sides; on rivers the stands keep to one.
	both := widthAt(land, c, down) < 8 && r.IntN(3) == 0
	d := down
	for i := range size {
		if both && i%2 == 1 {
			side = -side
		}
		at := beside(r, land, c, d, side)
		col.patches = append(col.patches, newPatch(r, at))
		if !both || i%2 == 1 {
			d = min(d+11+9*r.Float64(), c.length()-5)
		}
	}
	return col
}

// beside returns a place on the bank: 1 to some 28 m from the water's edge,
// mostly near it (exponential of mean 6 m, our choice).
func beside(r *rand.Rand, land country, c course, down, side float64) orb.Point {
	on, heading := c.at(down)
	out := widthAt(land, c, down)/2 + 1 + min(27, 6*r.ExpFloat64())
	return ahead(on, heading+side*math.Pi/2, out)
}

// widthAt returns the bankfull width of a course some way down its path.
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

// newPatch draws a patch. Areas are lognormal about 150 square metres, the
// clump of a giant grass some years old; heights 2 to 7 m. Our choice.
func newPatch(r *rand.Rand, at orb.Point) patch {
	kinds := []measure{byEye, byArea, byArea, bySides, bySides, bySides, byDiameter, byDiameter}
	return patch{
		at:      at,
		area:    min(1400, max(4, 150*math.Exp(0.8*r.NormFloat64()))),
		cover:   min(95, max(10, 62+20*r.NormFloat64())),
		height:  min(7, max(2, 4.5+1.1*r.NormFloat64())),
		measure: kinds[r.IntN(len(kinds))],
	}
}

func parcel(r *rand.Rand) string {
	const digits = "0123456789"
	b := []byte("P-0000")
	for i := 2; i < len(b); i++ {
		b[i] = digits[r.IntN(10)]
	}
	return string(b)
}
