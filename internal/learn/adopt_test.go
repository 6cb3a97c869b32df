package learn

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/earlier"
	"driftreach/internal/estimate"
	"driftreach/internal/lineage"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// supported is an answer with a factor of 2 on two half-distances.
func supported() *Answer {
	return &Answer{
		Quarters: []survey.Quarter{{Year: 2025, Number: 1}, {Year: 2026, Number: 3}}, Options: DefaultOptions(),
		Distance: Distance{
			Verdict: Supported, Counted: 42, Assumed: []geo.Kilometers{0.35, 1}, Needed: 30, Scales: []float64{1, 2, 4},
			Scale: estimate.Scale{Scale: estimate.Interval{Value: 2, Low: 1.5, High: 3}, Profile: []float64{6, 0, 5}, P: 0.005},
		},
	}
}

// Supported results make a settings file that a batch accepts, with their basis; others change
// nothing.
func TestAdoptIsASettingsFile(t *testing.T) {
	a := supported()
	for _, verdict := range []Verdict{Supported, NotSupported, TooLittle} {
		a.Distance.Verdict = verdict
		var b bytes.Buffer
		if err := a.WriteAdopt(&b); err != nil {
			t.Fatal(err)
		}
		s, err := settings.Read(bytes.NewReader(b.Bytes()), "adopt.toml", settings.Default())
		if err != nil {
			t.Fatalf("%v: %s", err, b.String())
		}
		got, want := s.Drift.HalfDistanceByOrder, settings.Default().Drift.HalfDistanceByOrder
		if verdict == Supported {
			want = []float64{0.7, 2}
			if !strings.Contains(b.String(), "# measured, this programme, n = 42 new stands, 2025Q1 to 2026Q3; 95 %: [0.525, 1.5] to [1.05, 3]") {
				t.Errorf("it does not say what it rests on:\n%s", b.String())
			}
		}
		if len(got) != len(want) || math.Abs(got[0]-want[0]) > 1e-12 || s.Plan.Efficacy != settings.Default().Plan.Efficacy {
			t.Errorf("%s: %v, want %v", verdict, got, want)
		}
	}
}

func TestVerdictsInWords(t *testing.T) {
	a := supported()
	for verdict, says := range map[Verdict]string{
		Supported: "Supported: new stands lie below known ones", NotSupported: "Not supported: drift would put new stands below known ones rather than above them, and 42 new stands do not show that.", TooLittle: "Too little data: 42 new stands were counted so far.",
	} {
		a.Distance.Verdict = verdict
		if got := a.distancePart().Verdict; !strings.HasPrefix(got, says) {
			t.Errorf("%q, want %q", got, says)
		}
	}
	for share, want := range map[float64]string{0.9999: "over 99 %", 1: "100 %", 0.5: "50 %", 0.045: "4.5 %", 0: "0 %"} {
		if got := percent(share); got != want {
			t.Errorf("%g: %q, want %q", share, got, want)
		}
	}
}

// By hand: patches of 78.54 m2 have a radius of 5 m; at 20 m from middle to middle their edges are
// 10 m apart. A stand that is gone counts by its position.
func TestNearKnownStands(t *testing.T) {
	rules, err := settings.Default().Stages()
	if err != nil {
		t.Fatal(err)
	}
	at := func(metres float64) orb.Point { return orb.Point{10, -36 + metres/110957} } // a degree of latitude there
	record := func(p orb.Point) survey.Record {
		return survey.Record{Notes: "", Position: p, PatchArea: 78.5398, Cover: 60}
	}
	known := func(p orb.Point, members ...int32) lineage.Known {
		return lineage.Known{Stand: stand.Stand{Center: p, Members: members}}
	}
	before := &Batch{Rules: rules, Batch: &earlier.Batch{Records: []survey.Record{record(at(0))}, Known: []lineage.Known{known(at(0), 0)}}}
	gone := known(at(500))
	gone.Absent = true
	before.Known = append(before.Known, gone)
	near := newNearby(before)
	for metres, want := range map[float64]bool{20.2: false, 19.8: true, -19.8: true, -20.2: false, 514.8: true, 515.2: false} {
		now := &Batch{Rules: rules, Batch: &earlier.Batch{Records: []survey.Record{record(at(metres))}, Known: []lineage.Known{known(at(metres), 0)}}}
		if got := near.within(now, 0, 10); got != want {
			t.Errorf("at %g m: %v", metres, got)
		}
	}
}

// Any patches against any others, by measuring each pair in one plane: edges within the distance, a
// stand that is gone as a circle of its acres.
func TestNearAnyKnownStands(t *testing.T) {
	rules, err := settings.Default().Stages()
	if err != nil {
		t.Fatal(err)
	}
	frame := earth.NewFrame(orb.Point{10, -36})
	rapid.Check(t, func(t *rapid.T) {
		draw := func(what string) (b *Batch, circles [][3]float64) {
			b = &Batch{Rules: rules, Batch: &earlier.Batch{}}
			for range rapid.IntRange(1, 6).Draw(t, what) {
				x, y := float64(rapid.IntRange(0, 300).Draw(t, "x")), float64(rapid.IntRange(0, 300).Draw(t, "y"))
				area := geo.SquareMeters(rapid.IntRange(1, 2000).Draw(t, "area"))
				k := lineage.Known{Stand: stand.Stand{Center: frame.Inverse(orb.Point{x, y})}}
				if what == "before" && rapid.IntRange(0, 3).Draw(t, "gone") == 0 {
					k.Absent, k.Memory.Ever = true, area.Grains()
				} else {
					k.Members = []int32{int32(len(b.Records))}
					b.Records = append(b.Records, survey.Record{Notes: "", Position: k.Center, PatchArea: area, Cover: 60})
				}
				b.Known = append(b.Known, k)
				circles = append(circles, [3]float64{x, y, math.Sqrt(float64(area) / math.Pi)})
			}
			return b, circles
		}
		before, old := draw("before")
		now, new := draw("now")
		near, distance := newNearby(before), float64(rapid.IntRange(0, 100).Draw(t, "distance"))
		for k, a := range new {
			want := false
			for _, b := range old {
				gap := math.Hypot(a[0]-b[0], a[1]-b[1]) - a[2] - b[2]
				if math.Abs(gap-distance) < 0.01 {
					t.Skip("a tie but for the earth's curve")
				}
				want = want || gap < distance
			}
			if got := near.within(now, k, geo.Meters(distance)); got != want {
				t.Errorf("%v within %g m of %v: %v", a, distance, old, got)
			}
		}
	})
}
