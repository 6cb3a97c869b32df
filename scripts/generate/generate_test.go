package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"

	"driftreach/geo/earth"
)

func dice(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 1)) }

func TestRunWritesWhatWasAskedFor(t *testing.T) {
	var texts [2][2][]byte
	for i := range texts {
		dir := filepath.Join(t.TempDir(), "new")
		if err := run(1000, 150, dir, 5, "plain"); err != nil {
			t.Fatal(err)
		}
		for k, name := range []string{"points.csv", "streams.geojson"} {
			text, err := os.ReadFile(filepath.Join(dir, name))
			if err != nil {
				t.Fatal(err)
			}
			texts[i][k] = text
		}
	}
	for k := range texts[0] {
		if !bytes.Equal(texts[0][k], texts[1][k]) {
			t.Errorf("file %d differs between two runs of one seed", k)
		}
	}
	table, err := csv.NewReader(bytes.NewReader(texts[0][0])).ReadAll()
	if err != nil || len(table) != 1001 {
		t.Errorf("%d rows with the header, want 1001: %v", len(table), err)
	}
	var doc struct{ Features []json.RawMessage }
	if err := json.Unmarshal(texts[0][1], &doc); err != nil || len(doc.Features) != 150 {
		t.Errorf("%d lines, want 150: %v", len(doc.Features), err)
	}
}

func TestRunRefuses(t *testing.T) {
	for name, err := range map[string]error{
		"no points": run(0, 10, t.TempDir(), 1, "plain"),
		"no lines":  run(10, 0, t.TempDir(), 1, "plain"),
		"no folder": run(10, 10, "", 1, "plain"),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// TestBasinIsATree holds for every size that each line leads to the outlet and
// that the outlet counts them all.
func TestBasinIsATree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 400).Draw(t, "lines")
		cells := growBasin(dice(rapid.Uint64().Draw(t, "seed")), n)
		if len(cells) != n+1 || cells[0].below != -1 || cells[0].lines != n {
			t.Fatalf("%d cells, outlet below %d with %d lines", len(cells), cells[0].below, cells[0].lines)
		}
		for i, c := range cells[1:] {
			b := cells[c.below]
			if c.below > i {
				t.Fatalf("cell %d comes before the one below it", i+1)
			}
			if d := max(c.x-b.x, b.x-c.x) + max(c.y-b.y, b.y-c.y); d != 1 {
				t.Fatalf("cell %d is %d steps from the one below it", i+1, d)
			}
		}
	})
}

func TestLinesJoinAndNeverCross(t *testing.T) {
	g := growRegion(dice(3), 400, braidShare)
	if len(g.streams) != 400 {
		t.Fatalf("%d lines, want 400", len(g.streams))
	}
	for i, s := range g.streams {
		if s.below >= 0 {
			end, begin := s.path[len(s.path)-1], g.streams[s.below].path[0]
			if end != begin || s.basin != g.streams[s.below].basin {
				t.Errorf("line %d does not join the one below it", i)
			}
		}
		for j := range i {
			if s.basin == g.streams[j].basin && cross(s.path, g.streams[j].path) {
				t.Errorf("lines %d and %d cross", j, i)
			}
		}
	}
}

// cross looks at every pair of segments of two paths.
func cross(a, b []orb.Point) bool {
	turn := func(p, q, r orb.Point) float64 {
		return (q[0]-p[0])*(r[1]-p[1]) - (q[1]-p[1])*(r[0]-p[0])
	}
	for i := 1; i < len(a); i++ {
		for j := 1; j < len(b); j++ {
			p, q, r, s := a[i-1], a[i], b[j-1], b[j]
			if turn(p, q, r)*turn(p, q, s) < 0 && turn(r, s, p)*turn(r, s, q) < 0 {
				return true
			}
		}
	}
	return false
}

func TestBasinsLieApart(t *testing.T) {
	g := growRegion(dice(1), 2500, braidShare)
	bounds := make([]orb.Bound, len(g.origin))
	for i, s := range g.streams {
		for _, p := range s.path {
			at := g.degrees(s.basin, p)
			if b := &bounds[s.basin]; *b == (orb.Bound{}) {
				*b = orb.Bound{Min: at, Max: at}
			} else {
				*b = b.Extend(at)
			}
		}
		if n := len(s.path); n < 15 || n > 27 {
			t.Errorf("line %d has %d vertices", i, n)
		}
	}
	for i := range bounds {
		for j := range i {
			if bounds[i].Intersects(bounds[j]) {
				t.Errorf("basins %d and %d overlap", j, i)
			}
		}
	}
}

func TestNamesFollowTheLargestLine(t *testing.T) {
	// Derived by hand: a trunk 1-2-3-4 above the outlet, where 5 joins at 2 and
	// is smaller than 3. The trunk has 5 lines, its pieces above 3 keep the name.
	cells := []cell{
		{below: -1, lines: 5}, {below: 0, lines: 5}, {below: 1, lines: 4},
		{below: 2, lines: 2}, {below: 3, lines: 1}, {below: 2, lines: 1},
	}
	want := []string{"River 1-1", "River 1-1", "River 1-1", "River 1-1", "River 1-1", ""}
	if got := nameRivers(0, cells); !slices.Equal(got, want) {
		t.Errorf("names %q, want %q", got, want)
	}
}

func TestStandSizesHaveTheirMean(t *testing.T) {
	r, sum, single := dice(2), 0, 0
	const draws = 200000
	for range draws {
		n := standSize(r, false)
		sum += n
		if n == 1 {
			single++
		}
	}
	// 0.8 x 31 + 0.2 x 1 = 25, within the draw's own scatter and rounding down.
	if mean := float64(sum) / draws; math.Abs(mean-meanSize) > 1 {
		t.Errorf("mean size %.1f, want %d", mean, meanSize)
	}
	if share := float64(single) / draws; math.Abs(share-0.2) > 0.01 {
		t.Errorf("%.3f single finds, want 0.2", share)
	}
}

func TestRiversidePointsKeepToTheBand(t *testing.T) {
	g := growRegion(dice(4), 100, braidShare)
	// One basin: its metres can be had back from the degrees.
	var paths orb.MultiLineString
	for _, s := range g.streams {
		paths = append(paths, s.path)
	}
	r := dice(9)
	for _, size := range []int{1, 7, 300, 2500} {
		points := riverside(r, g, size)
		if size > 1 && len(points) == 0 || len(points) > size {
			t.Fatalf("%d points, want up to %d", len(points), size)
		}
		for _, p := range points {
			at := orb.Point{(p[0] - g.origin[0][0]) * g.scale[0][0], (g.origin[0][1] - p[1]) * g.scale[0][1]}
			if d := planar.DistanceFrom(paths, at); d > widestBand+1e-6 {
				t.Fatalf("a point of a stand of %d lies %.1f m from the water", size, d)
			}
		}
	}
}

func TestPlacesAreMetresApart(t *testing.T) {
	g := growRegion(dice(1), 50, braidShare)
	p, q := g.degrees(0, orb.Point{0, 0}), g.degrees(0, orb.Point{300, 400})
	// Derived by hand: 3-4-5 triangle; the scale is that of the basin's corner.
	if d := float64(earth.Distance(p, q)); math.Abs(d-500) > 0.1 {
		t.Errorf("distance %.3f m, want 500", d)
	}
}

func BenchmarkRegion(b *testing.B) {
	for b.Loop() {
		growRegion(dice(1), 1000, braidShare)
	}
}
