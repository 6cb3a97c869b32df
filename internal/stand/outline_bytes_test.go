package stand

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// TestOutlineBytes: an outline is the same after encoding and decoding, with holes, many polygons
// and none; bytes without an origin are an error.
func TestOutlineBytes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var mp orb.MultiPolygon
		for range rapid.IntRange(0, 3).Draw(t, "polygons") {
			var p orb.Polygon
			for range rapid.IntRange(1, 3).Draw(t, "rings") {
				x, y := rapid.Float64Range(-179, 179).Draw(t, "x"), rapid.Float64Range(-80, 80).Draw(t, "y")
				size := rapid.Float64Range(1e-6, 1e-2).Draw(t, "size")
				p = append(p, orb.Ring{{x, y}, {x + size, y}, {x, y + size}, {x, y}})
			}
			mp = append(mp, p)
		}
		o := Pack(mp)
		text, err := o.GobEncode()
		if err != nil {
			t.Fatal(err)
		}
		back := Pack(orb.MultiPolygon{{{{1, 1}, {2, 1}, {1, 2}, {1, 1}}}}) // its old content is replaced
		if err := back.GobDecode(text); err != nil {
			t.Fatal(err)
		}
		if got, want := back.Polygons(), o.Polygons(); !cmp.Equal(got, want, cmpopts.EquateEmpty()) {
			t.Fatalf("%v, want %v", got, want)
		}
		if again, err := back.GobEncode(); err != nil || !bytes.Equal(again, text) {
			t.Fatalf("encoded again: %x, was %x, %v", again, text, err)
		}
		if err := back.GobDecode(text[:rapid.IntRange(0, originBytes-1).Draw(t, "cut")]); err == nil {
			t.Fatal("an outline without its origin is read")
		}
	})
}
