package stand

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// TestOutlineBytes: an outline comes back from its bytes as it was, holes, many polygons
// and nothing too; from fewer bytes, or sizes that cannot be, comes an error.
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
		back := Outline{unit: 7, rings: []int32{1}} // what was there before goes
		if err := back.GobDecode(text); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(o, back, cmp.AllowUnexported(Outline{})); d != "" {
			t.Fatal(d)
		}
		cut := rapid.IntRange(0, len(text)-1).Draw(t, "cut")
		if err := back.GobDecode(text[:cut]); err == nil {
			t.Fatalf("%d bytes of %d are read", cut, len(text))
		}
		for at := range 3 {
			wrong := append([]byte(nil), text...)
			wrong[4*at+3] = 0x80 // below 0
			if err := back.GobDecode(wrong); err == nil {
				t.Fatalf("a size below 0 is read")
			}
			wrong[4*at+3] = 0x7f // more than there are bytes
			if err := back.GobDecode(wrong); err == nil {
				t.Fatalf("a size of two thousand million is read")
			}
		}
	})
}
