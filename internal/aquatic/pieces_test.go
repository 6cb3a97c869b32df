package aquatic

import (
	"fmt"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
)

// TestPiecesJoined: a zone whose pieces were drawn one by one, in any order, and then joined, is
// the zone drawn at once, to the byte. A body of three streams, of which two cannot touch, has two
// pieces; the lake on the other body has one, and the two ends of the stream through it one each.
func TestPiecesJoined(t *testing.T) {
	middle := places["south of the equator"]
	brook := centerline("c", middle, 10, orb.Point{3000, 1000}, orb.Point{3000, 0})
	lines := []stream.Centerline{
		centerline("a", middle, 10, orb.Point{0, 1000}, orb.Point{0, 0}), centerline("b", middle, 30, orb.Point{50, 1000}, orb.Point{50, 0}),
		brook, centerline("d", middle, 10, orb.Point{9000, 2000}, orb.Point{9000, -2000}),
	}
	lines[3].Name = "Brook"
	lake := orb.Polygon{{{8800, -200}, {9200, -200}, {9200, 200}, {8800, 200}, {8800, -200}}}
	net, _ := stream.Connect(lines, nil, []stream.Surface{{ID: "l", Kind: stream.Lake, Areas: orb.MultiPolygon{degreesOf(middle, lake)}}}, flow.Options{Snap: 1})
	w := NewWater(net, DefaultSettings())
	pieces, of := w.Pieces()
	vertices := 0
	for i := range pieces {
		vertices += pieces[i].Vertices()
	}
	// by hand: 2 a line, one more at each end of the lake, and 5 of the lake's ring
	if len(pieces) != 5 || len(of) != 2 || of[0].Count != 3 || of[1].Count != 2 || of[0].Name != "Brook" || vertices != 3*2+2*2+5 {
		t.Fatalf("%d pieces with %d vertices", len(pieces), vertices)
	}
	drawn := make([]orb.MultiPolygon, len(pieces))
	for _, workers := range []int{1, 3} {
		for i := range slices.Backward(pieces) {
			drawn[i] = pieces[i].Draw()
		}
		bodies := map[int]Joined{}
		if workers > 1 { // the second body is joined already
			bodies[3] = Join(pieces[3:], drawn[3:])
		}
		zones, err := w.Join(Drawn{len(drawn), false, func(i int) orb.MultiPolygon { return drawn[i] }, func(first int) (Joined, bool) {
			joined, done := bodies[first]
			return joined, done
		}}, workers)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := fmt.Sprint(zones), fmt.Sprint(w.Dissolve(2)); got != want {
			t.Errorf("%d workers: joined %s, drawn at once %s", workers, got, want)
		}
		if len(zones) != 2 || zones[0].WaterBody != "Brook" || zones[0].Lines != 1 || zones[1].Lines != 3 {
			t.Errorf("%d zones: %+v", len(zones), zones)
		}
	}
	for _, n := range []int{len(pieces) - 1, len(pieces) + 1} {
		if _, err := w.Join(Drawn{n, false, func(int) orb.MultiPolygon { return nil }, notJoined}, 1); err == nil {
			t.Errorf("%d pieces of %d are joined", n, len(pieces))
		}
	}
	if mp := near(nil, 180); mp != nil {
		t.Errorf("nothing, turned: %v", mp)
	}
	if half := w.HalfWidths(); len(half) != net.Paths.Len() || half[0] != 5 {
		t.Errorf("half widths %v", half)
	}
}

// TestManyPieces: a water body of many pieces, joined one after the other, is as if they were joined at
// once; so is one with a lake.
func TestManyPieces(t *testing.T) {
	for _, lakes := range []int{0, 1} {
		middle := places["equator"]
		var lines []stream.Centerline
		for i := range manyPieces + 5 {
			x, y := float64(i%9)*400, float64(i/9)*500
			lines = append(lines, centerline(fmt.Sprint(i), middle, 3+geo.Meters(i%7), orb.Point{x, y}, orb.Point{x + 37, y + 170.3}, orb.Point{x + 11, y + 333}))
		}
		water := []stream.Surface{{ID: "l", Kind: stream.Lake, Areas: orb.MultiPolygon{degreesOf(middle, orb.Polygon{{{0, -900}, {200, -900}, {200, -600}, {0, -600}, {0, -900}}})}}}
		net, _ := stream.Connect(lines, nil, water[:lakes], flow.Options{Snap: 1})
		w := NewWater(net, DefaultSettings())
		pieces, _ := w.Pieces()
		if len(pieces) != len(lines)+lakes {
			t.Fatalf("%d pieces of %d lines", len(pieces), len(lines))
		}
		zones, err := w.Join(Drawn{len(pieces), true, func(i int) orb.MultiPolygon { return pieces[i].Draw() }, notJoined}, 1)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := fmt.Sprint(zones), fmt.Sprint(w.Dissolve(2)); got != want || zones[0].Area == 0 {
			t.Errorf("%d lakes: joined one after the other %s, at once %s", lakes, got, want)
		}
	}
}

// TestGroundWithoutArea: of a rest of a stand that is a line or nothing, no ground is near water;
// without streams there is no zone.
func TestGroundWithoutArea(t *testing.T) {
	middle := places["equator"]
	w := water(centerline("a", middle, 8, orb.Point{0, 2000}, orb.Point{0, -2000}))
	st, records := oneStand(t, middle, 100, orb.Point{0, 0})
	line := orb.MultiPolygon{{{at(middle, -5, 0), at(middle, 5, 0), at(middle, -5, 0), at(middle, -5, 0)}}}
	for name, rest := range map[string]orb.MultiPolygon{"a line": line, "nothing": {}} {
		if got := w.Within(st, records, stand.DefaultSettings(), rest, 30); got != 0 {
			t.Errorf("%s: %v m2", name, got)
		}
	}
	if got := (&Water{}).Around(middle, orb.Bound{Min: orb.Point{-9, -9}, Max: orb.Point{9, 9}}); got != nil {
		t.Errorf("a zone of no water: %v", got)
	}
	// no patch of these records counts
	if got := w.NewBanks().Of(st, records, stand.DefaultSettings(), func(int32) bool { return false }); len(got) != 0 {
		t.Errorf("strips of no record: %v", got)
	}
}
