package demo

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// seenLine is a centerline as a reader of streams.geojson sees it.
type seenLine struct {
	id         string
	path       orb.LineString
	order      float64
	width      float64
	divergence float64
	share      float64
	barrier    string
}

func seenLines(t *testing.T, s Scenario) []seenLine {
	t.Helper()
	var out []seenLine
	for _, f := range readMap(t, s.Streams) {
		l := seenLine{path: coordinates[orb.LineString](t, f)}
		l.id = f.Properties["stream_id"].(string)
		l.order = f.Properties["stream_order"].(float64)
		l.width = f.Properties["bankfull_width_m"].(float64)
		l.divergence = f.Properties["divergence"].(float64)
		l.share, _ = f.Properties["flow_share"].(float64)
		l.barrier, _ = f.Properties["barrier"].(string)
		out = append(out, l)
	}
	return out
}

func TestLinesJoinExactlyIntoOneNetwork(t *testing.T) {
	for _, seed := range seeds {
		lines := seenLines(t, made(seed))
		begins, ids := map[orb.Point]int{}, map[string]bool{}
		for _, l := range lines {
			begins[l.path[0]]++
			if ids[l.id] {
				t.Errorf("seed %d: id %s twice", seed, l.id)
			}
			ids[l.id] = true
		}
		outlets := 0
		for _, l := range lines {
			switch n := begins[l.path[len(l.path)-1]]; n {
			case 0:
				outlets++
			case 1, 2: // goes on, or parts in two
			default:
				t.Errorf("seed %d: %s ends where %d lines begin", seed, l.id, n)
			}
		}
		if outlets != 1 {
			t.Errorf("seed %d: %d outlets, want 1", seed, outlets)
		}
	}
}

func TestOrdersRiseOnlyWhereEqualsMeet(t *testing.T) {
	for _, seed := range seeds {
		lines := seenLines(t, made(seed))
		above := map[orb.Point][]seenLine{}
		for _, l := range lines {
			end := l.path[len(l.path)-1]
			above[end] = append(above[end], l)
		}
		for _, l := range lines {
			want, equal := 1.0, 0
			for _, u := range above[l.path[0]] {
				if u.divergence == 2 {
					continue
				}
				switch {
				case u.order > want || equal == 0:
					want, equal = max(want, u.order), 1
				case u.order == want:
					equal++
				}
			}
			if equal > 1 {
				want++
			}
			if l.order != want {
				t.Errorf("seed %d: %s has order %g, want %g", seed, l.id, l.order, want)
			}
		}
	}
}

func TestOneBraidPartsTheFlow(t *testing.T) {
	for _, seed := range seeds {
		var main, minor []seenLine
		for _, l := range seenLines(t, made(seed)) {
			switch l.divergence {
			case 1:
				main = append(main, l)
			case 2:
				minor = append(minor, l)
			}
		}
		if len(main) != 1 || len(minor) != 1 {
			t.Fatalf("seed %d: %d main and %d minor paths", seed, len(main), len(minor))
		}
		m, n := main[0], minor[0]
		if m.path[0] != n.path[0] || m.path[len(m.path)-1] != n.path[len(n.path)-1] {
			t.Errorf("seed %d: the two paths do not part and join at the same places", seed)
		}
		if math.Abs(m.share+n.share-1) > 1e-12 || n.share >= m.share {
			t.Errorf("seed %d: shares %g and %g", seed, m.share, n.share)
		}
	}
}

func TestBarriersStandWhereThePlanSays(t *testing.T) {
	for _, seed := range seeds {
		found := map[string]seenLine{}
		for _, l := range seenLines(t, made(seed)) {
			if l.barrier != "" {
				found[l.barrier] = l
			}
		}
		for _, kind := range []string{"dam", "weir", "culvert"} {
			if found[kind].barrier == "" {
				t.Errorf("seed %d: no %s", seed, kind)
			}
		}
		if lake := found["dam"]; lake.width != reservoirWidth {
			t.Errorf("seed %d: water above the dam is %g m wide", seed, lake.width)
		}
	}
}

func TestGradeByHand(t *testing.T) {
	// Two sources of 1 km join; a third of 1 km joins below: orders 1, 1, 2, 1, 2
	// by Strahler (1957); upstream km by addition.
	p := func(x, y float64) orb.Point { return orb.Point{x, y} }
	lines := []line{
		{id: "a", path: []orb.Point{p(0, 0), p(1000, 0)}},
		{id: "b", path: []orb.Point{p(1000, 1000), p(1000, 0)}},
		{id: "c", path: []orb.Point{p(1000, 0), p(2000, 0)}},
		{id: "d", path: []orb.Point{p(2000, 1000), p(2000, 0)}},
		{id: "e", path: []orb.Point{p(2000, 0), p(3000, 0)}},
	}
	gradeLines(lines)
	for i, want := range []struct {
		order int
		km    float64
	}{{1, 1}, {1, 1}, {2, 3}, {1, 1}, {2, 5}} {
		if lines[i].order != want.order || lines[i].upstream != want.km {
			t.Errorf("%s: order %d with %g km, want %d with %g", lines[i].id, lines[i].order,
				lines[i].upstream, want.order, want.km)
		}
	}
}
