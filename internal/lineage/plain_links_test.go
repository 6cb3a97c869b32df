package lineage

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// The tests of this file and of plain_looks_test.go compare the package with a second model of it,
// written from the package comment alone. It looks at every pair, takes the overlap of discs from
// the closed form of a lens, and decides place by place, in plane metres, what is seen. A scene in
// which something is within tooClose of a limit, where chords and millimetres decide, is drawn
// again.

// tooClose is in metres, and in hundredths of a share.
const tooClose = 0.08

// disc is a stand of one plant: a position, a radius and the position's uncertainty (0: not
// recorded).
type disc struct{ x, y, r, unsure float64 }

func (d disc) to(o disc) float64   { return math.Hypot(d.x-o.x, d.y-o.y) }
func (d disc) edge(o disc) float64 { return max(0, d.to(o)-d.r-o.r) }

// lens is the common area of two discs (MathWorld, "Circle-Circle Intersection", eq. 14).
func (d disc) lens(o disc) float64 {
	at, r, s := d.to(o), d.r, o.r
	switch {
	case at >= r+s:
		return 0
	case at <= math.Abs(r-s):
		return math.Pi * min(r, s) * min(r, s)
	}
	a := r * r * math.Acos((at*at+r*r-s*s)/(2*at*r))
	b := s * s * math.Acos((at*at+s*s-r*r)/(2*at*s))
	return a + b - math.Sqrt((-at+r+s)*(at+r-s)*(at-r+s)*(at+r+s))/2
}

func (d disc) off() float64 {
	if d.unsure > 0 {
		return min(30, d.unsure)
	}
	return 5
}

// finelyDrawn are settings of stands whose outlines are within two centimetres of their circles, so
// that distances are those of circles.
func finelyDrawn() stand.Settings {
	s := stand.DefaultSettings()
	s.Chord = 0.02
	return s
}

// stands makes one stand of each disc.
func stands(prefix string, discs []disc) ([]survey.Record, []stand.Stand) {
	records, out := make([]survey.Record, len(discs)), make([]stand.Stand, len(discs))
	for i, d := range discs {
		records[i] = survey.Record{
			ID: fmt.Sprintf("%s%02d", prefix, i), Detected: true, Cover: 50, Position: base.Inverse(orb.Point{d.x, d.y}),
			PatchArea: geo.SquareMeters(math.Pi * d.r * d.r), Uncertainty: geo.Meters(d.unsure),
		}
	}
	for i := range discs {
		out[i] = stand.Build(records, []int32{int32(i)}, finelyDrawn())
		out[i].ID = fmt.Sprintf("%s%02d", prefix, i)
	}
	return records, out
}

// plainLink is a link in the second model.
type plainLink struct {
	known, now    int
	shared, apart float64
}

// plainLinks links discs by the rules of the package comment. ok is false where any of them is a
// close call.
func plainLinks(known, now []disc, absent []bool, barred map[Pair]bool) (links []plainLink, ok bool) {
	ok = true
	below := func(a, b float64) bool {
		ok = ok && math.Abs(a-b) > tooClose
		return a < b
	}
	haveKnown, haveNow := map[int]bool{}, map[int]bool{}
	take := func(l plainLink) {
		links = append(links, l)
		haveKnown[l.known], haveNow[l.now] = true, true
	}
	var apart []plainLink
	for k, a := range known {
		for i, b := range now {
			if barred[Pair{int32(k), int32(i)}] {
				continue
			}
			least := math.Pi * min(a.r, b.r) * min(a.r, b.r)
			if !below(100*a.lens(b)/least, 25) {
				take(plainLink{k, i, a.lens(b), 0})
			} else {
				apart = append(apart, plainLink{k, i, 0, a.edge(b)})
			}
		}
	}
	claim := func(a, b plainLink) int {
		rank := func(l plainLink) int {
			if absent[l.known] {
				return 1
			}
			return 0
		}
		if a != b && rank(a) == rank(b) && max(a.shared, b.shared, a.apart, b.apart) > 0 { // otherwise the ids decide, exactly
			ok = ok && math.Abs(a.shared-b.shared)+math.Abs(a.apart-b.apart) > tooClose
		}
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(b.shared, a.shared), cmp.Compare(a.apart, b.apart), cmp.Compare(a.known, b.known), cmp.Compare(a.now, b.now))
	}
	slices.SortFunc(apart, claim)
	// a disc without a link goes to the nearest within uncertainty, starting with pairs in which
	// neither has a link
	had := [2]map[int]bool{}
	for side, have := range []map[int]bool{haveKnown, haveNow} {
		had[side] = map[int]bool{}
		for at := range have {
			had[side][at] = true
		}
	}
	var unsure []plainLink
	for _, l := range apart {
		if !(had[0][l.known] && had[1][l.now]) && !below(math.Hypot(known[l.known].off(), now[l.now].off()), l.apart) {
			unsure = append(unsure, l)
		}
	}
	for _, l := range unsure {
		if !haveKnown[l.known] && !haveNow[l.now] {
			take(l)
		}
	}
	for _, l := range unsure {
		if !haveKnown[l.known] || !haveNow[l.now] {
			take(l)
		}
	}
	for _, l := range apart { // the rest, one to one, nearest first
		if !haveKnown[l.known] && !haveNow[l.now] && !below(30, l.apart) {
			take(l)
		}
	}
	slices.SortFunc(links, claim)
	return links, ok
}

// TestLinksAgainstAPlainModel: a hundred and fifty quarters with up to eight stands each, on ground
// so narrow that they overlap, touch, and are close to the limits. It compares the links, their
// order, and the identities that follow.
func TestLinksAgainstAPlainModel(t *testing.T) {
	dice := rand.New(rand.NewPCG(5, 5))
	rules := map[string]int{}
	for scene := 0; scene < 150; {
		draw := func(n int, wide float64) []disc {
			out := make([]disc, n)
			for i := range out {
				out[i] = disc{wide * dice.Float64(), 60 * dice.Float64(), 2 + 12*dice.Float64(), 0}
				if dice.IntN(3) == 0 {
					out[i].unsure = 1 + 40*dice.Float64()
				}
			}
			return out
		}
		wide := 60 + 300*dice.Float64()
		known, now := draw(dice.IntN(9), wide), draw(dice.IntN(9), wide)
		absent, barred := make([]bool, len(known)), map[Pair]bool{}
		for k := range absent {
			absent[k] = dice.IntN(4) == 0
		}
		if len(known)*len(now) > 0 && dice.IntN(3) == 0 {
			barred[Pair{int32(dice.IntN(len(known))), int32(dice.IntN(len(now)))}] = true
		}
		want, ok := plainLinks(known, now, absent, barred)
		if !ok {
			continue
		}
		scene++
		records, were := stands("k", known)
		before := Before{Records: records}
		for k := range were {
			before.Known = append(before.Known, Known{Stand: were[k], Absent: absent[k]})
		}
		found, are := stands("n", now)
		q := Now{Quarter: survey.Quarter{Year: 2026, Number: 2}, Stands: are, Records: found}
		for p := range barred {
			q.Barred = append(q.Barred, p)
		}
		got := newLinker(before, q, DefaultSettings(), 1+scene%3).all()
		if len(got) != len(want) {
			t.Fatalf("scene %d: links %+v, want %+v", scene, got, want)
		}
		for i, w := range want {
			g := got[i]
			if int(g.Known) != w.known || int(g.Stand) != w.now || math.Abs(float64(g.Shared)-w.shared) > 0.02*w.shared+0.1 || math.Abs(float64(g.Apart)-w.apart) > tooClose {
				t.Fatalf("scene %d: link %d is %+v, want %+v", scene, i, g, w)
			}
			switch {
			case w.shared > 0:
				rules["ground"]++
			case w.apart <= math.Hypot(known[w.known].off(), now[w.now].off()):
				rules["uncertainty"]++
			default:
				rules["distance"]++
			}
		}
		wantIdentities(t, scene, want, before, q)
	}
	for _, rule := range []string{"ground", "uncertainty", "distance"} {
		if rules[rule] < 20 {
			t.Errorf("only %d links by %s: the scenes try too little", rules[rule], rule)
		}
	}
}

// wantIdentities derives identities along the links, in the order of claims, and compares those of
// Trace with them, where no stands were grouped.
func wantIdentities(t *testing.T, scene int, links []plainLink, before Before, now Now) {
	t.Helper()
	l := Trace(before, now, Evidence{}, DefaultSettings(), 1)
	if len(l.Groups) != len(now.Stands) {
		return
	}
	ids, given := make([]string, len(now.Stands)), map[int]bool{}
	for _, link := range links {
		if !given[link.known] && ids[link.now] == "" {
			given[link.known] = true
			ids[link.now] = before.Known[link.known].ID
		}
	}
	fresh := 0
	for i := range ids {
		if ids[i] == "" {
			fresh++
			ids[i] = fmt.Sprintf("2026Q2-%04d", fresh)
		}
	}
	if !slices.Equal(l.IDs, ids) {
		t.Fatalf("scene %d: identities %v, want %v", scene, l.IDs, ids)
	}
	for _, link := range l.Links {
		if link.Heir != (l.IDs[link.Stand] == before.Known[link.Known].ID) {
			t.Fatalf("scene %d: %+v of %v", scene, link, l.IDs)
		}
	}
}

// TestNamesAreInOrder guards the second model: its ids sort in the order of its indices.
func TestNamesAreInOrder(t *testing.T) {
	records, _ := stands("k", make([]disc, 12))
	if !slices.IsSortedFunc(records, func(a, b survey.Record) int { return strings.Compare(a.ID, b.ID) }) {
		t.Error(records)
	}
}
