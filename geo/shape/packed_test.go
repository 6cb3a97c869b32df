package shape

import (
	"bytes"
	"encoding/gob"
	"math"
	"reflect"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Steps of 1e-7 degrees come back exactly, with holes in their polygon, in the number of bytes
// counted by hand: a header for each ring, one byte for a difference of up to 63 steps, two for up
// to 8191.
func TestPackedByHand(t *testing.T) {
	place := func(x, y int) orb.Point { return orb.Point{float64(x) / 1e7, float64(y) / 1e7} }
	ring := func(x, y, side int) orb.Ring {
		return orb.Ring{place(x, y), place(x+side, y), place(x+side, y+side), place(x, y+side), place(x, y)}
	}
	mp := orb.MultiPolygon{{ring(0, 0, 60), ring(20, 20, 10)}, {ring(5000, 20, 100)}}
	packed := PackOnSteps(mp, 1e7)
	if got := packed.Polygons(); !reflect.DeepEqual(got, mp) {
		t.Errorf("%v, want %v", got, mp)
	}
	// 1 + 8; 1 + 8, whose first vertex is 20 and -40 away; 1 + 2 + 1, and then two bytes twice for
	// the long sides
	if got, want := len(packed.packed.text), 9+9+(1+3)+(2+1)+(1+2)+(2+1); got != want {
		t.Errorf("%d bytes, want %d", got, want)
	}
	if got := (OnSteps{}).Polygons(); len(got) != 0 {
		t.Errorf("nothing is %v", got)
	}
}

// Vertices at the same step become one, rings of fewer than three are dropped, and a hole is
// dropped with its outer ring.
func TestPackedLeavesOut(t *testing.T) {
	mp := orb.MultiPolygon{
		{{{0, 0}, {0.2, 0}, {1, 0}, {1, 1}, {0, 0.3}, {0, 0}}, {{0.1, 0.1}, {0.2, 0.1}, {0.2, 0.2}, {0.1, 0.1}}},
		{{{5, 5}, {5.1, 5}, {5.1, 5.1}, {5, 5}}, {{4, 4}, {6, 4}, {6, 6}, {4, 4}}},
	}
	want := orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}}
	if got := PackOnSteps(mp, 1).Polygons(); !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// Any polygons on the grid come back, anywhere on earth and past 180 degrees.
func TestPackedRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mp := orb.MultiPolygon{}
		for range rapid.IntRange(0, 3).Draw(t, "polygons") {
			var polygon orb.Polygon
			for range rapid.IntRange(1, 3).Draw(t, "rings") {
				x, y := rapid.IntRange(-4e9, 4e9).Draw(t, "x"), rapid.IntRange(-9e8, 9e8).Draw(t, "y")
				var ring orb.Ring
				for k := range rapid.IntRange(3, 9).Draw(t, "vertices") {
					x += rapid.IntRange(1, 1<<20).Draw(t, "by") * (1 - k%2*3)
					ring = append(ring, orb.Point{float64(x) / 1e7, float64(y+k) / 1e7})
				}
				polygon = append(polygon, append(ring, ring[0]))
			}
			mp = append(mp, polygon)
		}
		packed := PackOnSteps(mp, 1e7)
		if got := packed.Polygons(); !reflect.DeepEqual(got, mp) {
			t.Fatalf("%v, want %v", got, mp)
		}
		var b bytes.Buffer
		var back OnSteps
		if err := gob.NewEncoder(&b).Encode(packed); err != nil {
			t.Fatal(err)
		}
		if err := gob.NewDecoder(&b).Decode(&back); err != nil || back.perUnit != 1e7 || !bytes.Equal(back.packed.text, packed.packed.text) {
			t.Fatalf("%v, %v after %v", err, back, packed)
		}
		kept, err := packed.Keep(func(text []byte) (Far, error) { return copied(bytes.Clone(text)), nil })
		if got := kept.Polygons(); err != nil || !reflect.DeepEqual(got, mp) || len(kept.packed.text) > 0 {
			t.Fatalf("%v, %v kept elsewhere, want %v", err, got, mp)
		}
	})
}

// Bytes that are not rings are rejected, wherever they are cut.
func TestPackedRefusesOther(t *testing.T) {
	packed := PackOnSteps(orb.MultiPolygon{{{{0, 0}, {900, 0}, {900, 900}, {0, 0}}}}, 1)
	for n := 1; n < len(packed.packed.text); n++ {
		if err := new(Packed).GobDecode(packed.packed.text[:n]); err == nil {
			t.Errorf("%d of %d bytes were taken", n, len(packed.packed.text))
		}
	}
	if err := new(OnSteps).GobDecode(make([]byte, 7)); err == nil {
		t.Error("polygons without a unit were taken")
	}
	for _, text := range [][]byte{{5}, {4, 1, 1, 1, 1}, bytes.Repeat([]byte{0xff}, 12), {0xff, 0xff, 0xff, 0xff, 0x7f, 1, 1}} {
		if err := new(Packed).GobDecode(text); err == nil {
			t.Errorf("%v was taken", text)
		}
	}
	if box := (Packed{}).Polygons(func(Step) orb.Point { return orb.Point{math.NaN(), 0} }); len(box) != 0 {
		t.Error(box)
	}
}

// copied is a text elsewhere.
type copied []byte

func (c copied) Bytes() []byte { return c }
