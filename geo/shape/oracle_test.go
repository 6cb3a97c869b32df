package shape

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// answers is a file of GEOS 3.11.1 answers made by scripts/oracle_shape.py.
func answers[T any](t *testing.T, name string) T {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "shape", name))
	if err != nil {
		t.Fatal(err)
	}
	var v T
	if err := json.Unmarshal(raw, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// within fails when got differs from want by more than the given share.
func within(t testing.TB, what string, got geo.SquareMeters, want, share float64) {
	t.Helper()
	if off := math.Abs(float64(got) - want); !(off <= share*math.Abs(want)) {
		t.Errorf("%s: %v, want %v (off by %.2g)", what, got, want, off/want)
	}
}

func TestDiscsAgainstGEOS(t *testing.T) {
	type file struct {
		Cases []struct {
			Name            string
			Discs           [][3]float64
			Gap             float64
			Union, Closing  float64
			Grown           float64
			Polygons, Holes int
		}
	}
	for _, c := range answers[file](t, "discs.json").Cases {
		t.Run(c.Name, func(t *testing.T) {
			var discs []Disc
			for _, d := range c.Discs {
				discs = append(discs, Disc{orb.Point{d[0], d[1]}, geo.Meters(d[2])})
			}
			u := UnionDiscs(discs)
			within(t, "union", Area(u), c.Union, 1e-7)
			within(t, "exact union", UnionDiscsArea(discs), c.Union, 1e-7)
			// GEOS shrinks a polygon, so its error is a share of the shrunk area.
			within(t, "closing", CloseDiscs(discs, geo.Meters(c.Gap)), c.Closing, 5e-6*c.Grown/c.Closing)
			holes := 0
			for _, p := range u {
				holes += len(p) - 1
			}
			if len(u) != c.Polygons || holes != c.Holes {
				t.Errorf("%d polygons and %d holes, want %d and %d", len(u), holes, c.Polygons, c.Holes)
			}
			mustBeNormal(t, u)
		})
	}
}

func TestBuffersAgainstGEOS(t *testing.T) {
	type file struct {
		Cases []struct {
			Name    string
			Lines   []orb.LineString
			Radius  []geo.Meters
			Area    float64
			Outline orb.MultiPolygon
		}
	}
	for _, c := range answers[file](t, "buffers.json").Cases {
		t.Run(c.Name, func(t *testing.T) {
			within(t, "area", Area(BufferLines(c.Lines, c.Radius, 1024, 2)), c.Area, 1e-6)
			got := BufferLines(c.Lines, c.Radius, 128, 2)
			mustBeNormal(t, got)
			if d := max(farthestVertex(got, c.Outline), farthestVertex(c.Outline, got)); d > 1e-3 {
				t.Errorf("outlines part by %v m", d)
			}
		})
	}
}

// farthestVertex returns the largest distance of a vertex of a from the
// outline of b.
func farthestVertex(a, b orb.MultiPolygon) float64 {
	worst := 0.0
	for _, p := range a {
		for _, r := range p {
			for _, v := range r {
				best := math.Inf(1)
				for _, q := range b {
					for _, s := range q {
						best = ringToLine(s, orb.LineString{v}, best)
					}
				}
				worst = max(worst, best)
			}
		}
	}
	return math.Sqrt(worst)
}

type overlayFile struct {
	Cases []struct {
		Name          string
		A, B          orb.Ring
		Union         float64
		Intersection  float64
		Grown, Shrunk float64
		LineDistance  float64 `json:"line_distance"`
	}
	Repairs []struct {
		Name string
		Ring orb.Ring
		Area float64
	}
}

func TestOverlayAgainstGEOS(t *testing.T) {
	for _, c := range answers[overlayFile](t, "overlay.json").Cases {
		t.Run(c.Name, func(t *testing.T) {
			a, b := orb.MultiPolygon{{c.A}}, orb.MultiPolygon{{c.B}}
			within(t, "union", Area(Union([]orb.MultiPolygon{a, b}, 1)), c.Union, 1e-9)
			within(t, "intersection", IntersectionArea(a, b), c.Intersection, 1e-9)
			// Joins of a growing polygon are cut slightly differently.
			within(t, "grown", Area(BufferPolygon(a, 15, 32)), c.Grown, 1e-4)
			within(t, "shrunk", Area(BufferPolygon(a, -5, 32)), c.Shrunk, 1e-3)
			got := float64(DistanceToLine(a, orb.LineString{{150, -200}, {120, 200}}))
			if math.Abs(got-c.LineDistance) > 1e-9 {
				t.Errorf("distance %v, want %v", got, c.LineDistance)
			}
		})
	}
}

func TestRepairsAgainstGEOS(t *testing.T) {
	for _, c := range answers[overlayFile](t, "overlay.json").Repairs {
		t.Run(c.Name, func(t *testing.T) {
			got, changed := MakeValid(orb.MultiPolygon{{c.Ring}})
			if !changed {
				t.Error("not reported as changed")
			}
			within(t, "area", Area(got), c.Area, 1e-9)
			mustBeNormal(t, got)
		})
	}
}
