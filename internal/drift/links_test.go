package drift

import (
	"math"
	"testing"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// TestNearestLinksOnALine: on one stream where half settles every kilometre, stands a kilometre and
// two kilometres apart: the nearest is linked, and the link to the one beyond follows from it; the
// shares are a half and a quarter, and the second path takes twice the hours. Closed forms.
func TestNearestLinksOnALine(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 20, order: 1}, channel{id: "b", from: 3, to: 2, km: 5, order: 1}, channel{id: "c", from: 2, to: 4, km: 20, order: 2})
	s := halfKilometre()
	s.RiskShare = 0.01
	at := func(stand int32, line string, km float64) Source {
		return Source{Stand: stand, Place: place(net, line, km), Amount: 1}
	}
	released := Released{Stands: 5, Sources: []Source{at(0, "a", 16), at(1, "a", 17), at(2, "a", 19), at(3, "b", 4), at(4, "c", 1), at(4, "c", 2)}}
	onward := [][]int32{{1, 2, 4}, {2, 4}, {4}, {4}, nil}
	links := NearestLinks(net, released, s, func(stand int32) []int32 { return onward[stand] })
	want := []Link{{From: 0, To: 1, Share: 0.5}, {From: 1, To: 2, Share: 0.25}, {From: 2, To: 4, Share: 0.25}, {From: 3, To: 4, Share: 0.25}}
	if len(links) != len(want) {
		t.Fatalf("%+v", links)
	}
	for i, l := range links {
		if l.From != want[i].From || l.To != want[i].To || math.Abs(float64(l.Share-want[i].Share)) > 1e-12 {
			t.Errorf("link %d: %+v, want %+v", i, l, want[i])
		}
	}
	if math.Abs(float64(links[1].Fast/links[0].Fast)-2) > 1e-9 || !(links[0].Fast > 0) {
		t.Errorf("a kilometre takes %v hours, two %v", links[0].Fast, links[1].Fast)
	}
	if math.Abs(float64(links[2].Fast-links[3].Fast)) > 1e-9 { // a kilometre of order 1 and one of order 2 each
		t.Errorf("the same way from two streams: %v and %v hours", links[2].Fast, links[3].Fast)
	}
	// from a place below it, nothing reaches a stand above
	if links := NearestLinks(net, released, s, func(stand int32) []int32 { return map[int32][]int32{2: {0}}[stand] }); len(links) != 0 {
		t.Errorf("upstream: %+v", links)
	}
	s.RiskShare = 0.3
	if links := NearestLinks(net, released, s, func(stand int32) []int32 { return onward[stand] }); len(links) != 1 || links[0].To != 1 {
		t.Errorf("with a share of 0.3 afloat: %+v", links)
	}
}

// TestMergeLinks: by hand, the larger share and the fewer hours of each pair.
func TestMergeLinks(t *testing.T) {
	a := []Link{{0, 1, 0.5, 9}, {0, 3, 0.2, 4}, {2, 1, 0.1, 1}}
	b := []Link{{0, 1, 0.6, 12}, {1, 0, 0.3, 2}, {2, 1, 0.05, 0.5}}
	want := []Link{{0, 1, 0.6, 9}, {0, 3, 0.2, 4}, {1, 0, 0.3, 2}, {2, 1, 0.1, 0.5}}
	got := MergeLinks(a, b)
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("link %d: %+v, want %+v", i, got[i], want[i])
		}
	}
	if got := MergeLinks(nil, b); len(got) != 3 || got[1] != b[1] {
		t.Errorf("of one stage: %+v", got)
	}
}

// TestPiecesOfAnEdge: the share at a source is taken from the piece that contains it: at its
// beginning, within it and at its end; nothing beyond.
func TestPiecesOfAnEdge(t *testing.T) {
	pieces := []flow.Piece{{Edge: 0, From: 0, To: 100, ShareFrom: 1, HoursFrom: 0, HoursTo: 2}, {Edge: 0, From: 200, To: 300, ShareFrom: 0.4, HoursFrom: 5, HoursTo: 6}}
	transport := flow.Transport{Rate: []float64{math.Ln2 / 100}}
	for offset, want := range map[float64][2]float64{0: {1, 0}, 50: {math.Sqrt2 / 2, 1}, 100: {0.5, 2}, 200: {0.4, 5}, 300: {0.2, 6}} {
		link, there := nearestOf(pieces, []Source{{Place: flow.Place{Edge: 0, Offset: geo.Meters(offset)}}}, transport)
		if !there || math.Abs(float64(link.Share)-want[0]) > 1e-12 || math.Abs(float64(link.Fast)-want[1]) > 1e-12 {
			t.Errorf("at %g m: %+v, %v, want %v", offset, link, there, want)
		}
	}
	for _, offset := range []float64{150, 301} {
		if link, there := nearestOf(pieces, []Source{{Place: flow.Place{Edge: 0, Offset: geo.Meters(offset)}}}, transport); there {
			t.Errorf("at %g m, where nothing comes: %+v", offset, link)
		}
	}
	if _, there := nearestOf(pieces, []Source{{Place: flow.Place{Edge: 1}}}, transport); there {
		t.Error("on another edge")
	}
}
