package earth

import (
	"math"
	"reflect"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// All pieces derived by hand.
func TestCutLine(t *testing.T) {
	for _, c := range []struct {
		name string
		in   orb.LineString
		want orb.MultiLineString
	}{
		{"nothing", nil, nil},
		{"inside", orb.LineString{{-180, 0}, {180, 1}}, orb.MultiLineString{{{-180, 0}, {180, 1}}}},
		{
			"once eastward", orb.LineString{{179, 0}, {181, 2}},
			orb.MultiLineString{{{179, 0}, {180, 1}}, {{-180, 1}, {-179, 2}}},
		},
		{
			"once westward", orb.LineString{{-179, 0}, {-182, 3}},
			orb.MultiLineString{{{-179, 0}, {-180, 1}}, {{180, 1}, {178, 3}}},
		},
		{
			"there and back", orb.LineString{{179, 0}, {181, 2}, {179, 4}},
			orb.MultiLineString{{{179, 0}, {180, 1}}, {{-180, 1}, {-179, 2}, {-180, 3}}, {{180, 3}, {179, 4}}},
		},
		{
			"vertex on the cut, crossing", orb.LineString{{179, 0}, {180, 1}, {181, 5}},
			orb.MultiLineString{{{179, 0}, {180, 1}}, {{-180, 1}, {-179, 5}}},
		},
		{
			"vertex on the cut, touching", orb.LineString{{181, 0}, {180, 1}, {181, 2}},
			orb.MultiLineString{{{-179, 0}, {-180, 1}, {-179, 2}}},
		},
		{
			"starts on the cut, goes east", orb.LineString{{180, 1}, {180, 2}, {181, 2}},
			orb.MultiLineString{{{-180, 1}, {-180, 2}, {-179, 2}}},
		},
		{
			"starts on the cut, goes west after", orb.LineString{{180, 1}, {179, 2}, {181, 4}},
			orb.MultiLineString{{{180, 1}, {179, 2}, {180, 3}}, {{-180, 3}, {-179, 4}}},
		},
		{
			"runs along the cut, then west", orb.LineString{{180, 1}, {180, 2}, {179, 3}, {181, 5}},
			orb.MultiLineString{{{180, 1}, {180, 2}, {179, 3}, {180, 4}}, {{-180, 4}, {-179, 5}}},
		},
		{
			"runs along a farther cut, then west", orb.LineString{{540, 1}, {540, 2}, {539, 3}},
			orb.MultiLineString{{{180, 1}, {180, 2}, {179, 3}}},
		},
		{
			"runs along the western cut, then west", orb.LineString{{-180, 1}, {-180, 2}, {-181, 3}},
			orb.MultiLineString{{{180, 1}, {180, 2}, {179, 3}}},
		},
		{
			"runs along the western cut, then east", orb.LineString{{-180, 1}, {-180, 2}, {-179, 3}, {-181, 5}},
			orb.MultiLineString{{{-180, 1}, {-180, 2}, {-179, 3}, {-180, 4}}, {{180, 4}, {179, 5}}},
		},
		{"along a cut alone", orb.LineString{{540, 1}, {540, 2}}, orb.MultiLineString{{{-180, 1}, {-180, 2}}}},
		{"all a turn away", orb.LineString{{361, 0}, {362, 1}}, orb.MultiLineString{{{1, 0}, {2, 1}}}},
		{
			"more than a turn long", orb.LineString{{0, 0}, {720, 72}},
			orb.MultiLineString{{{0, 0}, {180, 18}}, {{-180, 18}, {180, 54}}, {{-180, 54}, {0, 72}}},
		},
		{
			"runs along the cut", orb.LineString{{179, 0}, {180, 1}, {180, 2}, {180.5, 3}},
			orb.MultiLineString{{{179, 0}, {180, 1}, {180, 2}}, {{-180, 2}, {-179.5, 3}}},
		},
	} {
		if got := CutLine(c.in); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// The pieces are within the limits, join end to end, and together are as long as the line (in plain
// degrees, in which edges are straight).
func TestCutLineKeepsTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := orb.LineString{{rapid.Float64Range(-400, 400).Draw(t, "start"), 0}}
		for range rapid.IntRange(1, 12).Draw(t, "edges") {
			last := line[len(line)-1]
			lon := last[0] + rapid.Float64Range(-30, 30).Draw(t, "east")
			if rapid.IntRange(0, 4).Draw(t, "snap") == 0 {
				lon = 180 + 360*math.Round((lon-180)/360)
			}
			line = append(line, orb.Point{lon, last[1] + rapid.Float64Range(0.01, 2).Draw(t, "north")})
		}
		pieces := CutLine(line)
		sum := 0.0
		for i, piece := range pieces {
			if len(piece) < 2 {
				t.Fatalf("piece of %d vertices", len(piece))
			}
			if west, east := lonRange(piece); west < -180 || east > 180 {
				t.Fatalf("piece reaches %v to %v", west, east)
			}
			sum += plainLength(piece)
			if i > 0 {
				end, start := pieces[i-1][len(pieces[i-1])-1], piece[0]
				if math.Abs(end[0]) != 180 || end[0] != -start[0] || end[1] != start[1] {
					t.Fatalf("pieces part: %v, %v", end, start)
				}
			}
		}
		near(t, "length", sum, plainLength(line), 1e-9)
	})
}

func plainLength(line orb.LineString) (sum float64) {
	for i := 1; i < len(line); i++ {
		sum += math.Hypot(line[i][0]-line[i-1][0], line[i][1]-line[i-1][1])
	}
	return sum
}
