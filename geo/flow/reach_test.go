package flow

import (
	"fmt"
	"math"
	"testing"

	"driftreach/geo"
)

// reached adds up the metres of pieces.
func reached(pieces []Piece) (sum float64) {
	for _, p := range pieces {
		sum += float64(p.To - p.From)
	}
	return sum
}

// TestReachDivided: the flow divides into two equal halves, one of which loses half on its way.
// Below, where the half-distance is 200 m, a half and a quarter are afloat: log2 3 half-distances
// down to a quarter of all. Undivided, only the better arm counts, with the whole: two
// half-distances. By hand; the arms of 100 and 300 m and the 50 m above are reached.
func TestReachDivided(t *testing.T) {
	lines := []Line{byNode("a", "1", "2", 50), byNode("b", "2", "3", 100), byNode("c", "2", "3", 300), byNode("d", "3", "4", 900)}
	n, _ := Build(lines, DefaultOptions())
	tr := everywhere(n, 0)
	tr.Rate[edgeNamed(n, lines, "c")], tr.Rate[edgeNamed(n, lines, "d")] = math.Ln2/300, math.Ln2/200
	from := []Place{{edgeNamed(n, lines, "a"), 0}}
	near(t, "divided", reached(n.Reach(tr, from, Bound{Floor: 0.25, Divided: true}, n.NewWalker())), 450+200*math.Log2(3), 1e-9)
	near(t, "undivided", reached(n.Reach(tr, from, Bound{Floor: 0.25}, n.NewWalker())), 450+400, 1e-9)
}

// TestReachOfTwoReleases: two streams of 100 m meet. The first release loses nothing, but 10 of its
// 12 hours pass; the second loses half in an hour. Below, the half-distance is 200 m and a metre
// takes 0.01 hours: the first goes on for the 200 m of its last 2 hours, the second for the 400 m
// from a half to an eighth. By hand, with the best values at the start of each piece: shares 1 and
// 1/4, hours 1 and 3, as the second release always arrives earlier.
func TestReachOfTwoReleases(t *testing.T) {
	lines := []Line{byNode("a", "1", "3", 100), byNode("b", "2", "3", 100), byNode("c", "3", "4", 900)}
	n, _ := Build(lines, DefaultOptions())
	a, b, c := edgeNamed(n, lines, "a"), edgeNamed(n, lines, "b"), edgeNamed(n, lines, "c")
	tr := everywhere(n, 0)
	tr.Hours, tr.Limit = make([]geo.Hours, 3), 12
	tr.Hours[a], tr.Hours[b], tr.Hours[c] = 10, 1, 9
	tr.Rate[b], tr.Rate[c] = math.Ln2/100, math.Ln2/200
	var below []Piece
	for _, p := range n.Reach(tr, []Place{{a, 0}, {b, 0}}, Bound{Floor: 0.125}, n.NewWalker()) {
		if p.Edge == c {
			below = append(below, p)
		}
	}
	if len(below) != 2 {
		t.Fatalf("%+v", below)
	}
	for i, want := range [][5]float64{{0, 200, 1, 0.5, 1}, {200, 400, 0.25, 0.125, 3}} {
		p := below[i]
		for k, got := range []float64{float64(p.From), float64(p.To), p.ShareFrom, p.ShareTo, float64(p.HoursFrom)} {
			near(t, fmt.Sprintf("piece %d, value %d", i, k), got, want[k], 1e-9)
		}
	}
	// where the second is neither later nor smaller, it alone counts
	tr.Rate[b] = 0
	near(t, "the better alone", reached(n.Reach(tr, []Place{{a, 0}, {b, 0}}, Bound{Floor: 0.125}, n.NewWalker())), 100+100+600, 1e-9)
	// two equal releases count as one
	tr.Hours[a] = 1
	near(t, "two alike", reached(n.Reach(tr, []Place{{a, 0}, {b, 0}}, Bound{Floor: 0.125}, n.NewWalker())), 100+100+600, 1e-9)
}

// TestReachOfMoreThanAreKept: 70 streams meet at one place, more than the 64 releases kept apart,
// each with a release some metres above it. The nearest decides how far the reach goes, whether it
// is named first or last. By hand: 1 m to 70 m, and of the two half-distances of 200 m, 399 m
// remain for the nearest.
func TestReachOfMoreThanAreKept(t *testing.T) {
	const heads = 70
	for name, off := range map[string]func(i int) int{"nearest first": func(i int) int { return 1 + i }, "nearest last": func(i int) int { return heads - i }} {
		lines := []Line{byNode("low", "0", "end", 900)}
		for i := range heads {
			lines = append(lines, byNode(fmt.Sprintf("h%02d", i), fmt.Sprintf("%d", i+1), "0", 100))
		}
		n, _ := Build(lines, DefaultOptions())
		var places []Place
		for i := range heads {
			places = append(places, Place{edgeNamed(n, lines, fmt.Sprintf("h%02d", i)), geo.Meters(100 - off(i))})
		}
		got := reached(n.Reach(everywhere(n, math.Ln2/200), places, Bound{Floor: 0.25}, n.NewWalker()))
		near(t, name, got, heads*(heads+1)/2+399, 1e-9)
	}
}
