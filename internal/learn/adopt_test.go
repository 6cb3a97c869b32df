package learn

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

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
			Verdict: Supported, Counted: 42, Assumed: []float64{0.35, 1}, Needed: 30, Scales: []float64{1, 2, 4},
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
		return survey.Record{Notes: &survey.Notes{}, Position: p, PatchArea: 78.5398, Cover: 60}
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
