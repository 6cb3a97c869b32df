package linear

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo/earth"
)

// kept is a text elsewhere.
type kept []byte

func (k kept) Part(_ []byte, from, n int) []byte { return k[from : from+n] }

// sameBits says whether two lines are the same to the last bit.
func sameBits(a, b orb.LineString) bool {
	return slices.EqualFunc(a, b, func(p, q orb.Point) bool {
		return math.Float64bits(p[0]) == math.Float64bits(q[0]) && math.Float64bits(p[1]) == math.Float64bits(q[1])
	})
}

// TestPackedLines: lines come back to the last bit, from memory and from elsewhere, in both directions:
// of any decimals, cut in the middle of a segment, of numbers that are no coordinates.
func TestPackedLines(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var given []orb.LineString
		for range rapid.IntRange(0, 3*rowsTogether).Draw(r, "lines") {
			decimals := math.Pow10(rapid.IntRange(0, 13).Draw(r, "decimals"))
			line := orb.LineString{}
			for range rapid.IntRange(0, 6).Draw(r, "vertices") {
				p := orb.Point{rapid.Float64Range(-200, 200).Draw(r, "lon"), rapid.Float64Range(-90, 90).Draw(r, "lat")}
				line = append(line, orb.Point{math.Round(p[0]*decimals) / decimals, math.Round(p[1]*decimals) / decimals})
			}
			if n := len(line); n > 0 {
				odd := []float64{math.NaN(), math.Inf(-1), math.Copysign(0, -1), math.MaxFloat64, 1. / 3}
				switch rapid.IntRange(0, 9).Draw(r, "odd") {
				case 0:
					line[0][0] = rapid.SampledFrom(odd).Draw(r, "first")
				case 1:
					line[n-1][1] = rapid.SampledFrom(odd).Draw(r, "last")
				case 2:
					line[n/2][1] = rapid.SampledFrom(odd).Draw(r, "middle")
				}
			}
			given = append(given, line)
		}
		for _, put := range []func([]byte) (Far, error){nil, func(text []byte) (Far, error) { return kept(slices.Clone(text)), nil }} {
			p := Packer{Put: put}
			var rows []int32
			for _, line := range given {
				row := p.Add(line)
				rows = append(rows, row, ^row)
			}
			lines, err := p.Lines(rows)
			if err != nil || lines.Len() != 2*len(given) {
				r.Fatalf("%d lines, %v", lines.Len(), err)
			}
			for i, line := range lines.All() {
				want := slices.Clone(given[i/2])
				if i%2 == 1 {
					slices.Reverse(want)
				}
				if !sameBits(line, want) || lines.vertices(i) != len(want) {
					r.Fatalf("line %d is %v of %d vertices, want %v", i, line, lines.vertices(i), want)
				}
			}
		}
	})
}

// TestLongLines: a line of more than a hundred vertices is at hand both ways round without being made
// anew, beside packed ones, and takes no room in a text.
func TestLongLines(t *testing.T) {
	var p Packer
	var given []orb.LineString
	var rows []int32
	for _, n := range []int{100, 101, 3, 300} {
		line := make(orb.LineString, n)
		for i := range line {
			line[i] = orb.Point{float64(i) / 1000, float64(i*i%13) / 1000}
		}
		row := p.Add(line)
		given, rows = append(given, line), append(rows, row, ^row, ^row)
	}
	if want := len(appendLine(appendLine(nil, given[0]), given[2])); len(p.texts) != want {
		t.Errorf("a text of %d bytes, want %d", len(p.texts), want)
	}
	lines, err := p.Lines(rows)
	if err != nil {
		t.Fatal(err)
	}
	for i, line := range lines.All() {
		want := slices.Clone(given[i/3])
		if i%3 > 0 {
			slices.Reverse(want)
		}
		if !sameBits(line, want) || lines.vertices(i) != len(want) {
			t.Errorf("line %d is %v of %d vertices, want %v", i, line, lines.vertices(i), want)
		}
		long := len(want) > 100
		if made := testing.AllocsPerRun(10, func() { lines.At(i) }); long != (made == 0) {
			t.Errorf("line %d of %d vertices is made anew with %v allocations", i, len(want), made)
		}
	}
}

// TestPackedSize: by hand: a line of 24 vertices of seven decimals, less than 0.0008 degrees apart, takes
// two bytes a step (14 bits with the sign), at most five for the first, and two before. One that was cut
// has an end of 16 bytes.
func TestPackedSize(t *testing.T) {
	var line orb.LineString
	for i := range 24 {
		line = append(line, orb.Point{math.Round(1e7*(-39.9+0.0007*float64(i))) / 1e7, math.Round(1e7*(30-0.0004*float64(i))) / 1e7})
	}
	if n := len(appendLine(nil, line)); n > 2+2*5+23*4 {
		t.Errorf("%d bytes", n)
	}
	line[23] = orb.Point{-39.9 + 0.0161/3, 30 - 0.0092/3}
	if n := len(appendLine(nil, line)); n > 2+2*5+22*4+16 || n < 16+22*4 {
		t.Errorf("%d bytes of one that was cut", n)
	}
}

// TestPackedElsewhereFails: an error of Put is that of Lines.
func TestPackedElsewhereFails(t *testing.T) {
	full := errors.New("full")
	p := Packer{Put: func([]byte) (Far, error) { return nil, full }}
	for range rowsTogether + 1 {
		p.Add(orb.LineString{{1, 2}, {3, 4}})
	}
	if _, err := p.Lines(nil); !errors.Is(err, full) {
		t.Errorf("the error is %v", err)
	}
}

// TestIndexOfPacked: an index of packed lines finds the same.
func TestIndexOfPacked(t *testing.T) {
	var p Packer
	var lines []orb.LineString
	var rows []int32
	for i := range 200 {
		line := orb.LineString{}
		for k := range 20 {
			line = append(line, orb.Point{float64(i%20) + float64(k)/100, float64(i/20) + float64(k*i%7)/1000})
		}
		lines, rows = append(lines, line), append(rows, p.Add(line))
	}
	packed, err := p.Lines(rows)
	if err != nil {
		t.Fatal(err)
	}
	a, b := NewIndex(lines), NewIndexOf(packed)
	for i := range 100 {
		at := orb.Point{float64(i) / 4, float64(i*i%97) / 9}
		x, _ := a.Nearest(at)
		y, _ := b.Nearest(at)
		if x != y || !slices.Equal(a.Near(at, 3000), b.Near(at, 3000)) {
			t.Errorf("at %v: %v and %v", at, x, y)
		}
	}
}

// TestMeasured: the measures of a line, and that of one vertex, are those of earth.LengthsAlong, asked
// once and again, for lines short and long, plain and packed.
func TestMeasured(t *testing.T) {
	var lines []orb.LineString
	for _, n := range []int{2, manyMeasures - 1, manyMeasures, 3 * manyMeasures} {
		var line orb.LineString
		for i := range n {
			line = append(line, orb.Point{10 + float64(i)*1e-3, 50 + math.Sin(float64(i))*1e-3})
		}
		lines = append(lines, line)
	}
	var packer Packer
	var rows []int32
	for _, line := range lines {
		rows = append(rows, packer.Add(line))
	}
	packed, err := packer.Lines(rows)
	if err != nil {
		t.Fatal(err)
	}
	for name, all := range map[string]Lines{"plain": LinesOf(lines), "packed": packed, "zero": {plain: lines}} {
		for range 2 {
			for i, line := range lines {
				want := earth.LengthsAlong(line)
				same, got := all.Measured(i)
				if !slices.Equal(got, want) || !slices.Equal(same, line) {
					t.Fatalf("%s: line %d is measured otherwise", name, i)
				}
				for _, vertex := range []int{0, 1, len(line) - 1} {
					if same, at := all.MeasureOf(i, vertex); at != want[vertex] || !slices.Equal(same, line) {
						t.Fatalf("%s: vertex %d of line %d is at %v, not %v", name, vertex, i, at, want[vertex])
					}
				}
			}
		}
	}
}
