package survey

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// TestPackedComesBack: any record comes back as it was, and no shorter bytes are taken for one.
func TestPackedComesBack(t *testing.T) {
	number := rapid.SampledFrom([]float64{0, math.Copysign(0, -1), -40.25, 1e300, math.NaN(), math.Inf(1)})
	known := number.Filter(func(v float64) bool { return !math.IsNaN(v) })
	words := rapid.SliceOfN(rapid.StringN(0, 5, -1), 0, 3)
	rapid.Check(t, func(t *rapid.T) {
		want := Record{
			ID: rapid.String().Draw(t, "id"), Row: rapid.Int().Draw(t, "row"), Position: orb.Point{known.Draw(t, "lon"), known.Draw(t, "lat")},
			Begin: Day(rapid.Int32().Draw(t, "begin")), End: Day(rapid.Int32().Draw(t, "end")),
			Uncertainty: geo.Meters(known.Draw(t, "uncertainty")), PatchArea: geo.SquareMeters(known.Draw(t, "area")),
			Cover: number.Draw(t, "cover"), StemHeight: geo.Meters(number.Draw(t, "height")),
			Detected: rapid.Bool().Draw(t, "detected"), Status: rapid.SampledFrom(Statuses()).Draw(t, "status"),
		}
		if rapid.Bool().Draw(t, "noted") {
			want.Notes = &Notes{RecordedBy: rapid.String().Draw(t, "by"), Parcel: "7", Remarks: rapid.String().Draw(t, "remarks"), Extra: words.Draw(t, "extra")}
		}
		if rapid.Bool().Draw(t, "drawn") {
			want.Outline = orb.MultiPolygon{{{{1, 2}, {3, 4}, {5, 6}, {1, 2}}, {}}, {}}
		}
		packed := want.AppendPacked(nil)
		var got Record
		if err := got.Unpack(packed); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got, cmpopts.EquateNaNs(), cmp.Comparer(func(a, b geo.Meters) bool { return a == b || a != a && b != b }), cmpopts.EquateEmpty()); diff != "" {
			t.Fatal(diff)
		}
		want.ID, want.Notes = "", nil
		if err := got.unpackNumbers(packed); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got, cmpopts.EquateNaNs(), cmp.Comparer(func(a, b geo.Meters) bool { return a == b || a != a && b != b }), cmpopts.EquateEmpty()); diff != "" {
			t.Fatal("without texts: ", diff)
		}
		for n := range packed {
			if got.Unpack(packed[:n]) == nil {
				t.Fatalf("%d of %d bytes are enough", n, len(packed))
			}
		}
	})
}
