package linear

import (
	"bytes"
	"encoding/binary"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"github.com/paulmach/orb"
)

// TestBytesOfALine: by hand. The head is four times the number of vertices; then come 7 decimals, and
// steps from vertex to vertex as varints with the sign in the lowest bit: 1.5 degrees are 15,000,000
// steps, twice that 30,000,000 or 0x1c9c380, in groups of seven bits 00, 07, 27, 0e; -0.0000003 degrees
// are -3 steps, written as 5.
func TestBytesOfALine(t *testing.T) {
	got := appendLine(nil, orb.LineString{{1.5, 0}, {1.5, -3e-7}, {1.5, -3e-7}})
	want := []byte{3 << 2, 7, 0x80, 0x87, 0xa7, 0x0e, 0, 0, 5, 0, 0}
	if !bytes.Equal(got, want) {
		t.Errorf("% x, want % x", got, want)
	}
	if got := appendLine(nil, nil); !bytes.Equal(got, []byte{0, 7}) && !bytes.Equal(got, []byte{0, exactly}) {
		t.Errorf("of no vertices: % x", got)
	}
}

// TestDecimalsOfALine: the fewest decimals of 7, 9 and 12 that all vertices but the ends have. More than
// 2^52 steps are no whole number of a float to rely on: such a line is kept as it is, and so is a minus
// zero.
func TestDecimalsOfALine(t *testing.T) {
	of := func(middle float64) byte {
		b := appendLine(nil, orb.LineString{{1, 2}, {middle, 2}, {3, 2}})
		_, n := binary.Uvarint(b)
		return b[n]
	}
	for middle, want := range map[float64]byte{
		1.5: 7, -179.1234567: 7, 1.12345678: 9, 1.123456789: 9, 1.1234567891: 12, 1.123456789012: 12, 1.0 / 3: exactly,
		1 << 52 / 1e7: 7, (1<<52 + 2) / 1e6: exactly, math.Inf(1): exactly, math.NaN(): exactly, math.Copysign(0, -1): exactly,
	} {
		if got := of(middle); got != want {
			t.Errorf("%v has %d decimals, want %d", middle, got, want)
		}
	}
}

// TestNoLines: no line at all, packed or not; and going through lines can stop.
func TestNoLines(t *testing.T) {
	var p Packer
	none, err := p.Lines(nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, lines := range map[string]Lines{"zero": {}, "packed": none, "plain": LinesOf(nil)} {
		for i := range lines.All() {
			t.Errorf("%s has line %d", name, i)
		}
		if _, ok := NewIndexOf(lines).Nearest(orb.Point{1, 1}); ok || lines.Len() != 0 {
			t.Errorf("%s has %d lines, and one is near", name, lines.Len())
		}
	}
	row := p.Add(orb.LineString{{1, 1}, {2, 2}})
	packed, _ := p.Lines([]int32{row, row, row})
	for name, lines := range map[string]Lines{"packed": packed, "plain": LinesOf(make([]orb.LineString, 3))} {
		met := 0
		for i := range lines.All() {
			if met++; i == 1 {
				break
			}
		}
		if met != 2 {
			t.Errorf("%s: %d lines were met", name, met)
		}
	}
}

// TestIndexOfMixedLines: an index of short and long lines, some of them turned round, in memory and
// elsewhere, asked by several at once, finds what that of the same lines as they are finds.
func TestIndexOfMixedLines(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	for _, put := range []func([]byte) (Far, error){nil, func(text []byte) (Far, error) { return kept(slices.Clone(text)), nil }} {
		p := Packer{Put: put}
		var plain []orb.LineString
		var rows []int32
		for range 150 {
			at := orb.Point{10 * random.Float64(), 5 * random.Float64()}
			line := orb.LineString{at}
			for range 1 + random.IntN(160) {
				at = orb.Point{at[0] + 0.02*random.NormFloat64(), at[1] + 0.02*random.NormFloat64()}
				line = append(line, orb.Point{math.Round(at[0]*1e7) / 1e7, math.Round(at[1]*1e7) / 1e7})
			}
			row := p.Add(line)
			if random.IntN(3) == 0 {
				line, row = slices.Clone(line), ^row
				slices.Reverse(line)
			}
			plain, rows = append(plain, line), append(rows, row)
		}
		packed, err := p.Lines(rows)
		if err != nil {
			t.Fatal(err)
		}
		want, got := NewIndex(plain), NewIndexOf(packed)
		var asking sync.WaitGroup
		for part := range 4 {
			asking.Go(func() {
				for i := range 50 {
					at := orb.Point{float64(i*4+part) / 20, float64(i*i%53) / 10}
					a, _ := want.Nearest(at)
					b, _ := got.Nearest(at)
					if a != b || !slices.Equal(want.Near(at, 5000), got.Near(at, 5000)) {
						t.Errorf("at %v: %v, want %v", at, b, a)
					}
				}
			})
		}
		asking.Wait()
	}
}
