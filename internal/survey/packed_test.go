package survey

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// TestNotesComeBack: notes in one string, by hand with the number 300 as in the example of Protocol Buffers
// ("Base 128 Varints"); any notes come back, and each text by its name; a text that is cut off ends there.
func TestNotesComeBack(t *testing.T) {
	long := strings.Repeat("x", 300)
	if got, want := (Notes{"Ann", "", long, []string{"y", ""}}).Pack(), PackedNotes("\x03Ann\x00\xac\x02"+long+"\x01y\x00"); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if (Notes{}).Pack() != "" || (Notes{Extra: []string{""}}).Pack() == "" {
		t.Error("only notes without texts and columns are blank")
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringN(0, -1, 300)
		want := Notes{text.Draw(t, "by"), text.Draw(t, "parcel"), text.Draw(t, "remarks"), rapid.SliceOfN(text, 0, 3).Draw(t, "extra")}
		r := Record{Notes: want.Pack()}
		if diff := cmp.Diff(want, r.Told(), cmpopts.EquateEmpty()); diff != "" {
			t.Fatal(diff)
		}
		if got := []string{r.RecordedBy(), r.Parcel(), r.Remarks()}; !slices.Equal(got, []string{want.RecordedBy, want.Parcel, want.Remarks}) || r.Notes.Columns() != len(want.Extra) {
			t.Fatalf("%q and %d columns of %+v", got, r.Notes.Columns(), want)
		}
		for k, value := range want.Extra {
			if got, told := r.Carried(k); got != value || !told {
				t.Fatalf("column %d: %q, %v", k, got, told)
			}
		}
		if got, told := r.Carried(len(want.Extra)); got != "" || told {
			t.Fatalf("a column more: %q", got)
		}
		for n := range r.Notes {
			if by := r.Notes[:n].Unpack().RecordedBy; !strings.HasPrefix(want.RecordedBy, by) {
				t.Fatalf("%d bytes of %q are by %q", n, r.Notes, by)
			}
		}
	})
}

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
			want.Notes = Notes{RecordedBy: rapid.String().Draw(t, "by"), Parcel: "7", Remarks: rapid.String().Draw(t, "remarks"), Extra: words.Draw(t, "extra")}.Pack()
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
		want.ID, want.Notes = "", ""
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
