package shape

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// TestNearlyStraightLines: lines that turn by a few 1e-7 at each vertex, as straight ones do once written
// with few decimals, close side by side. By hand: twice the radius times the length, and a disc.
func TestNearlyStraightLines(t *testing.T) {
	dice := rand.New(rand.NewPCG(15, 3))
	for _, off := range []float64{1e-6, 1e-5, 1e-4} {
		for range 20 {
			line, long, r := orb.LineString{{}}, 0.0, 10+40*dice.Float64()
			y, x := math.Sincos(2 * math.Pi * dice.Float64())
			for i := range 100 {
				along, aside := float64(i+1)*50, off*dice.NormFloat64()
				line = append(line, orb.Point{along*x - aside*y, along*y + aside*x})
				long += apart(line[i], line[i+1])
			}
			s := newCapsules([]orb.LineString{line}, []float64{r})
			arcs, ok := s.exposed(1)
			if !ok {
				t.Fatalf("off by %v: not exposed", off)
			}
			if route, ok := follow(arcs, s.elements()); !ok || route.doubtful {
				t.Fatalf("off by %v: closes %v, doubtful %v", off, ok, route.doubtful)
			}
			got, want := float64(Area(DrawLines([]orb.LineString{line}, []geo.Meters{geo.Meters(r)}, 0.1, 1))), 2*r*long+math.Pi*r*r
			if math.Abs(got/want-1) > 1e-6 {
				t.Errorf("off by %v: %v m2, want %v", off, got, want)
			}
		}
	}
}

// TestFinelyWhereCrossed: the ends of two lines are half a millimetre apart, so that chords that keep their
// area may cross there. Only there the drawing follows the true circles.
func TestFinelyWhereCrossed(t *testing.T) {
	const r, gap = 31, 0.0005
	crossed := 0
	for turn := range 40 {
		y, x := math.Sincos(float64(turn) * 0.02)
		end := orb.Point{(2*r + gap) * x, (2*r + gap) * y}
		lines := []orb.LineString{{{-300, 0}, {0, 0}}, {end, {362, 0}}, {{-300, 0}, {-280, 400}, {342, 410}, {362, 0}}}
		radius := []geo.Meters{r, r, r}
		s := newCapsules(lines, []float64{r, r, r})
		arcs, _ := s.exposed(1)
		coarse, _ := s.draw(arcs, rounding{finelyDrawn, 0.1}, nil)
		got, plain := DrawLines(lines, radius, 0.1, 1), BufferLines(lines, radius, finelyDrawn, 1)
		if Valid(got) != nil || math.Abs(float64(Area(got)/Area(plain)-1)) > 3e-6 {
			t.Errorf("turned %d: %v, area %v, finely %v", turn, Valid(got), Area(got), Area(plain))
		}
		if isClear(coarse, drawnClear) {
			continue
		}
		crossed++
		// some 1000 on each of the two half circles
		if some, many := vertices(got), vertices(plain); some < vertices(coarse)+1000 || some > many-1000 {
			t.Errorf("turned %d: %d vertices by chords, %d drawn, %d on true circles", turn, vertices(coarse), some, many)
		}
	}
	if crossed == 0 {
		t.Error("the chords never cross")
	}
}

// TestPerturbedLines: lines moved a little stay connected, and have nearly the same ground.
func TestPerturbedLines(t *testing.T) {
	g := lineGroup{[]orb.LineString{{{0, 0}, {100, 0}}, {{100, 0}, {100, 80}}}, []float64{10, 10}}
	want := Area(bufferGroup(g, rounding{quadrantSegments: 64}, 1))
	for _, far := range perturbations {
		lines := g.perturbed(far)
		mp, ok := newCapsules(lines, g.radius).outlined(rounding{quadrantSegments: 64}, 1)
		if moved := apart(lines[0][0], g.lines[0][0]); lines[0][1] != lines[1][0] || moved == 0 || moved > 2*far {
			t.Errorf("%v moved by up to %v", lines, far)
		}
		if !ok || len(mp) != 1 || math.Abs(float64(Area(mp)-want)) > 420*far {
			t.Errorf("moved by %v: %v m2, want %v", far, Area(mp), want)
		}
	}
}

// BenchmarkComb: one winding line with teeth on both sides, every other one of them apart from it.
func BenchmarkComb(b *testing.B) {
	for _, n := range []int{250, 1000, 4000} {
		dice := rand.New(rand.NewPCG(15, 1))
		river := orb.LineString{{}}
		lines, radius := []orb.LineString{nil}, []geo.Meters{50}
		for i := range n {
			at := orb.Point{75 * float64(i+1), 200 * math.Sin(float64(i)/9)}
			river = append(river, at)
			side := 1 - 2*float64(i%2)
			tooth := orb.LineString{}
			for k := range 11 {
				tooth = append(tooth, orb.Point{at[0], at[1] + side*(float64(i/2%2*50)+float64(k)*(10+40*dice.Float64()))})
			}
			lines, radius = append(lines, tooth), append(radius, 31)
		}
		lines[0] = river
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				DrawLines(lines, radius, 0.1, 1)
			}
		})
	}
}
