package lineage

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/linear"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
)

// scene is what was surveyed in a quarter, in metres.
type scene struct {
	known    []disc // one stand, each disc less than 15 m across
	treated  bool
	finds    []disc
	nothing  []disc // each with the radius it searched
	lines    []sightLine
	areas    []sightArea
	given    bool
	water    float64 // half the stream's width; the stream flows north along x = 0; 0 for none
	turn     float64 // rotation of the whole scene on the ground, radians
	s        Settings
	ok       bool
	children []int // for each find, whether its stand is linked
}

type sightLine struct {
	path   []orb.Point
	method surveyed.Method
	bank   surveyed.Bank
	day    int
}

type sightArea struct {
	west, south, east, north float64
	method                   surveyed.Method
	day                      int
}

func (s *scene) below(a, b float64) bool {
	s.ok = s.ok && math.Abs(a-b) > tooClose
	return a < b
}

// nearestOn is the place on a segment nearest to p.
func nearestOn(p, a, b orb.Point) orb.Point {
	dx, dy := b[0]-a[0], b[1]-a[1]
	f := ((p[0]-a[0])*dx + (p[1]-a[1])*dy) / (dx*dx + dy*dy)
	f = max(0, min(1, f))
	return orb.Point{a[0] + f*dx, a[1] + f*dy}
}

// sees says whether somebody saw a place, with slack metres added to the reach, and the latest day.
func (s *scene) sees(x, y, slack float64) (seen bool, day int) {
	tell := func(d int) { seen, day = true, max(day, d) }
	at := disc{x, y, 0, 0}
	for i, n := range s.nothing {
		if !s.below(n.r+slack, at.to(n)) {
			tell(10 + i)
		}
	}
	for _, a := range s.areas {
		if s.treated && a.method != surveyed.Foot {
			continue
		}
		in := true
		for _, d := range []float64{x - a.west, a.east - x, y - a.south, a.north - y} {
			in = !s.below(d, 0) && in
		}
		if in {
			tell(a.day)
		}
	}
	for _, l := range s.lines {
		if s.seenFrom(l, orb.Point{x, y}, slack) {
			tell(l.day)
		}
	}
	about := 30.0
	if s.given {
		about = 0
	}
	for _, i := range s.children {
		if !s.below(s.finds[i].r+about, at.to(s.finds[i])) {
			tell(20 + i)
		}
	}
	return seen, day
}

func (s *scene) seenFrom(l sightLine, at orb.Point, slack float64) bool {
	sight := s.s.Sight[l.method]
	reach := float64(sight.Absent)
	if s.treated && l.method != surveyed.Foot {
		return false
	} else if len(s.children) > 0 && !s.treated {
		reach = float64(sight.Found)
	}
	if reach == 0 {
		return false
	}
	for i := 0; i+1 < len(l.path); i++ {
		from := nearestOn(at, l.path[i], l.path[i+1])
		if s.below(reach+slack, math.Hypot(from[0]-at[0], from[1]-at[1])) {
			continue
		}
		// the water flows north: its left bank is on the west
		if s.water > 0 && l.bank != surveyed.BothBanks && s.below(at[0], 0) != (l.bank == surveyed.LeftBank) {
			continue
		}
		across := s.below(from[0], 0) != s.below(at[0], 0) && s.below(s.water, math.Abs(from[0]))
		if s.water >= 5 && l.method == surveyed.Foot && across {
			continue
		}
		return true
	}
	return false
}

// left returns the known plants that nobody saw or found again.
func (s *scene) left() []int {
	var left []int
	seen, all := 0.0, 0.0
	for i, k := range s.known {
		all += k.r * k.r
		if in, _ := s.sees(k.x, k.y, 0); in {
			seen += k.r * k.r
		} else {
			left = append(left, i)
		}
	}
	if len(s.children) == 0 {
		if !s.below(2*seen, all) { // most was surveyed: position error alone keeps none
			left = slices.DeleteFunc(left, func(i int) bool {
				in, _ := s.sees(s.known[i].x, s.known[i].y, s.known[i].off())
				return in
			})
		}
		return left
	}
	return s.foundAgain(left)
}

// foundAgain removes the plants that finds count as: pairs within two radii of error, nearest
// first, then those within three. A plant left over also counts as found if it and all plants
// paired so far can have one find each, in any assignment.
func (s *scene) foundAgain(left []int) []int {
	type pair struct {
		far     bool
		d       float64
		k, find int
	}
	var pairs []pair
	may := make([][]int, len(s.known))
	for k, a := range s.known {
		for _, f := range s.children {
			unsure, d := math.Hypot(a.off(), s.finds[f].off()), a.to(s.finds[f])
			if s.below(min(30, 3*unsure), d) {
				continue
			}
			pairs = append(pairs, pair{s.below(min(30, 2*unsure), d), d, k, f})
			may[k] = append(may[k], f)
		}
	}
	slices.SortFunc(pairs, func(a, b pair) int { return cmp.Or(geo.CompareBools(a.far, b.far), cmp.Compare(a.d, b.d)) })
	var again []int
	used := map[int]bool{}
	for _, p := range pairs {
		if !slices.Contains(again, p.k) && !used[p.find] {
			again, used[p.find] = append(again, p.k), true
		}
	}
	var still []int
	for _, k := range left {
		switch {
		case slices.Contains(again, k):
		case dealt(append(slices.Clone(again), k), may, map[int]bool{}):
			again = append(again, k)
		default:
			still = append(still, k)
		}
	}
	return still
}

// dealt says whether each of some plants can have a separate find, by trying all assignments.
func dealt(plants []int, may [][]int, used map[int]bool) bool {
	if len(plants) == 0 {
		return true
	}
	for _, f := range may[plants[0]] {
		if !used[f] {
			used[f] = true
			if dealt(plants[1:], may, used) {
				return true
			}
			used[f] = false
		}
	}
	return false
}

// TestLooksAgainstAPlainModel: one known stand of one to six plants, with or without a river, and
// any survey: finds, records of "not detected", lines walked, boated or flown on one bank or both,
// areas. It compares which plants are carried, which share was seen, and when.
func TestLooksAgainstAPlainModel(t *testing.T) {
	dice := rand.New(rand.NewPCG(8, 8))
	counts := map[string]int{}
	for n := 0; n < 150; {
		s := drawScene(dice)
		before, now, e := s.records()
		l := Trace(before, now, e, s.s, 1)
		s.children = nil
		for _, link := range l.Links {
			for _, m := range now.Stands[l.Groups[link.Stand][0]].Members {
				s.children = append(s.children, int(m))
			}
		}
		if len(l.Groups) != len(now.Stands) || len(before.Known) != 1 {
			continue
		}
		want := s.left()
		seen, all, day := 0.0, 0.0, 0
		for i, k := range s.known {
			all += k.r * k.r
			in, d := s.sees(k.x, k.y, 0)
			if day = max(day, d); in || len(s.children) == 0 && !slices.Contains(want, i) {
				seen += k.r * k.r
			}
		}
		if !s.ok {
			continue
		}
		n++
		var got []int
		for _, left := range l.Looks[0].Left {
			got = append(got, int(left.Record))
		}
		if !slices.Equal(got, want) {
			t.Fatalf("scene %d: left %v, want %v\n%+v", n, got, want, *s)
		}
		share := seen / all
		if len(want) == 0 {
			share = 1
		}
		if math.Abs(l.Looks[0].Share-share) > 1e-9 {
			t.Fatalf("scene %d: a share of %g was seen, want %g\n%+v", n, l.Looks[0].Share, share, *s)
		}
		if w := may(day); !l.Looks[0].Day.Equal(w) {
			t.Fatalf("scene %d: looked at on %v, want %v\n%+v", n, l.Looks[0].Day, w, *s)
		}
		switch {
		case len(want) == 0:
			counts["all"]++
		case len(want) == len(s.known):
			counts["none"]++
		default:
			counts["some"]++
		}
	}
	for _, of := range []string{"all", "none", "some"} {
		if counts[of] < 12 {
			t.Errorf("%v: the scenes try too little", counts)
		}
	}
}

// may is a day of May; zero for none.
func may(day int) time.Time {
	if day == 0 {
		return time.Time{}
	}
	return time.Date(2026, 5, day, 0, 0, 0, 0, time.UTC)
}

func drawScene(dice *rand.Rand) *scene {
	s := &scene{ok: true, s: DefaultSettings(), treated: dice.IntN(4) == 0, given: dice.IntN(2) == 0}
	if dice.IntN(2) == 0 {
		s.water = 1 + 9*dice.Float64()
	}
	s.turn = 6 * dice.Float64()
	place := func(wide float64) orb.Point {
		return orb.Point{wide * (dice.Float64() - 0.5), wide * (dice.Float64() - 0.5)}
	}
	at := place(40)
	for range 1 + dice.IntN(6) { // within the join distance of each other
		d := disc{at[0], at[1], 2 + 10*dice.Float64(), 0}
		if dice.IntN(2) == 0 {
			d.unsure = 1 + 10*dice.Float64()
		}
		s.known = append(s.known, d)
		at = orb.Point{at[0] + 28*(dice.Float64()-0.5), at[1] + 28*(dice.Float64()-0.3)}
	}
	for range dice.IntN(5) {
		near := s.known[dice.IntN(len(s.known))]
		off := place(50)
		s.finds = append(s.finds, disc{near.x + off[0], near.y + off[1], 1 + 6*dice.Float64(), 0})
	}
	for range dice.IntN(3) {
		at := place(80)
		s.nothing = append(s.nothing, disc{at[0], at[1], 5 + 25*dice.Float64(), 0})
	}
	if !s.given {
		return s
	}
	for i := range dice.IntN(3) {
		path := []orb.Point{place(120), place(120), place(120)}
		s.lines = append(s.lines, sightLine{path, surveyed.Method(dice.IntN(int(surveyed.Methods))), surveyed.Bank(dice.IntN(3)), 1 + i})
	}
	if dice.IntN(3) == 0 {
		at := place(60)
		s.areas = append(s.areas, sightArea{at[0], at[1], at[0] + 60*dice.Float64(), at[1] + 60*dice.Float64(), surveyed.Method(dice.IntN(int(surveyed.Methods))), 5})
	}
	return s
}

// place returns the position on the ground of a place in the scene.
func (s *scene) place(x, y float64) orb.Point {
	sin, cos := math.Sincos(s.turn)
	return base.Inverse(orb.Point{x*cos - y*sin, x*sin + y*cos})
}

// records makes the package's input from a scene.
func (s *scene) records() (Before, Now, Evidence) {
	of := func(prefix string, discs []disc, first int) []survey.Record {
		var out []survey.Record
		for i, d := range discs {
			out = append(out, survey.Record{
				ID: fmt.Sprintf("%s%02d", prefix, i), Detected: true, Cover: 50, Position: s.place(d.x, d.y),
				PatchArea: geo.SquareMeters(math.Pi * d.r * d.r), Uncertainty: geo.Meters(d.unsure), Begin: survey.DayOf(may(first + i)), End: survey.DayOf(may(first + i)),
			})
		}
		return out
	}
	known := of("k", s.known, 1)
	all := make([]int32, len(known))
	for i := range known {
		if all[i] = int32(i); s.treated {
			known[i].Status = survey.Treated
		}
	}
	before := Before{Records: known, Known: []Known{{Stand: stand.Build(known, all, stand.DefaultSettings()), Quarter: survey.Quarter{Year: 2026, Number: 1}}}}
	before.Known[0].ID = "2026Q1-0001"
	now := Now{Quarter: survey.Quarter{Year: 2026, Number: 2}, Records: of("f", s.finds, 20)}
	for i := range s.finds { // each is a separate stand
		st := stand.Build(now.Records, []int32{int32(i)}, stand.DefaultSettings())
		now.Stands = append(now.Stands, st)
	}
	nothing := of("z", s.nothing, 10)
	for i := range nothing {
		nothing[i].Detected = false
	}
	now.Records = append(now.Records, nothing...)
	e := Evidence{Given: s.given}
	for _, l := range s.lines {
		var path orb.LineString
		for _, p := range l.path {
			path = append(path, s.place(p[0], p[1]))
		}
		e.Ground = append(e.Ground, surveyed.Ground{Method: l.method, Bank: l.bank, End: may(l.day), Lines: orb.MultiLineString{path}})
	}
	for _, a := range s.areas {
		e.Ground = append(e.Ground, surveyed.Ground{Method: a.method, End: may(a.day), Areas: orb.MultiPolygon{{{s.place(a.west, a.south), s.place(a.east, a.south), s.place(a.east, a.north), s.place(a.west, a.north), s.place(a.west, a.south)}}}})
	}
	if s.water > 0 {
		e.Water = Water{linear.LinesOf([]orb.LineString{{s.place(0, -700), s.place(0, 700)}}), []geo.Meters{geo.Meters(s.water)}}
	}
	return before, now, e
}

// TestDrawnLooksByPoints: a patch drawn as a rectangle of up to 90 m, with areas, lines and records
// of "not detected" around it. It compares the share that was seen, and the unseen part, at points
// two metres apart. The patch's position is known to a centimetre, so that no sliver counts as seen
// because of uncertainty.
func TestDrawnLooksByPoints(t *testing.T) {
	dice := rand.New(rand.NewPCG(4, 8))
	cut := 0
	for n := range 60 {
		s := drawScene(dice)
		s.finds, s.water, s.turn, s.given = nil, 0, 0, true
		for i := range s.lines {
			s.lines[i].bank = surveyed.BothBanks
		}
		west, south := -50+20*dice.Float64(), -40+20*dice.Float64()
		east, north := west+30+60*dice.Float64(), south+30+40*dice.Float64()
		_, now, e := s.records()
		e.Given = true
		found := drawn("d", west, south, east, north)
		found.Uncertainty = 0.01
		if s.treated {
			found.Status = survey.Treated
		}
		before := knownOf(t, []survey.Record{found})
		look := Trace(before, now, e, s.s, 1).Looks[0]
		seen, left, all := 0, 0, 0
		for x := west + 1; x < east; x += 2 {
			for y := south + 1; y < north; y += 2 {
				all++
				in, _ := s.sees(x, y, 0)
				if in {
					seen++
				}
				if len(look.Left) > 0 && (look.Left[0].Patch == nil || within(look.Left[0].Patch, base.Inverse(orb.Point{x, y}))) {
					if left++; in && look.Left[0].Patch != nil && !s.nearEdge(x, y) {
						t.Fatalf("patch %d: %.1f, %.1f was seen and is left\n%+v", n, x, y, *s)
					}
				}
			}
		}
		share := float64(seen) / float64(all)
		if math.Abs(look.Share-share) > 0.03 || math.Abs(float64(left)/float64(all)-(1-share)) > 0.03 {
			t.Fatalf("patch %d: a share of %.3f was seen and %.3f is left, by points %.3f\n%+v", n, look.Share, float64(left)/float64(all), share, *s)
		}
		if share > 0.1 && share < 0.9 {
			cut++
		}
	}
	if cut < 15 {
		t.Errorf("only %d patches were cut: the scenes try too little", cut)
	}
}

// nearEdge says whether anything that sees a place ends within half a metre of it.
func (s *scene) nearEdge(x, y float64) bool {
	for _, d := range []orb.Point{{0.5, 0}, {-0.5, 0}, {0, 0.5}, {0, -0.5}} {
		if in, _ := s.sees(x+d[0], y+d[1], 0); !in {
			return true
		}
	}
	return false
}
