package lineage

import (
	"math"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// rowOf is a row of finds from west to east, at the given metres.
func rowOf(prefix string, at ...float64) []survey.Record {
	frame := earth.NewFrame(orb.Point{-40, -33})
	var out []survey.Record
	for i, x := range at {
		out = append(out, survey.Record{
			ID: prefix + string(rune('a'+i)), Position: frame.Inverse(orb.Point{x, 0}), Detected: true, PatchArea: 100, Cover: math.NaN(), StemHeight: geo.Meters(math.NaN()),
		})
	}
	return out
}

// mappedNow maps records as the stands of this quarter.
func mappedNow(t *testing.T, records []survey.Record) Now {
	t.Helper()
	q := survey.Quarter{Year: 2026, Number: 2}
	stands, _, err := stand.Map(records, q, stand.DefaultSettings(), 1)
	if err != nil {
		t.Fatal(err)
	}
	return Now{Quarter: q, Stands: stands, Records: records}
}

func builder(records []survey.Record) func([]int32) stand.Stand {
	return func(members []int32) stand.Stand { return stand.Build(records, members, stand.DefaultSettings()) }
}

// TestTwoStandsStayTwo: two stands of three plants, 60 m apart, grow together over plants in
// between. By hand: without a correction they are merged; declared different, each continues under
// its own identity, and each plant in between goes to the nearer one.
func TestTwoStandsStayTwo(t *testing.T) {
	before := knownOf(t, rowOf("k", 0, 20, 40, 100, 120, 140))
	if len(before.Known) != 2 {
		t.Fatal(len(before.Known), "stands before")
	}
	now := mappedNow(t, rowOf("n", 0, 20, 40, 60, 80, 100, 120, 140))
	if len(now.Stands) != 1 {
		t.Fatal(len(now.Stands), "stands now")
	}
	if l := Trace(before, now, Evidence{}, DefaultSettings(), 1); len(l.Links) != 2 || len(l.Groups) != 1 {
		t.Fatalf("without a word: %+v", l)
	}
	cut := SetApart(before, now, []Separation{{Known: 0, Other: 1, Find: -1}}, DefaultSettings(), builder(now.Records))
	l := Trace(before, cut, Evidence{}, DefaultSettings(), 1)
	if len(cut.Stands) != 2 || len(cut.Stands[0].Members) != 4 || len(cut.Stands[1].Members) != 4 {
		t.Fatalf("cut into %+v", cut.Stands)
	}
	if len(l.Links) != 2 || l.IDs[0] != before.Known[0].ID || l.IDs[1] != before.Known[1].ID {
		t.Errorf("links %+v, identities %v", l.Links, l.IDs)
	}
}

// TestAFindThatIsNotTheStand: a find at the place of a known stand is something else. By hand: it
// gets a new identity, and the rest keeps the known one.
func TestAFindThatIsNotTheStand(t *testing.T) {
	before := knownOf(t, rowOf("k", 0, 20, 40))
	now := mappedNow(t, rowOf("n", 0, 20, 40))
	cut := SetApart(before, now, []Separation{{Known: 0, Other: -1, Find: 2}}, DefaultSettings(), builder(now.Records))
	l := Trace(before, cut, Evidence{}, DefaultSettings(), 1)
	if len(cut.Stands) != 2 || l.IDs[0] != before.Known[0].ID || l.IDs[1] != "2026Q2-0001" || len(l.Links) != 1 {
		t.Errorf("%d stands, identities %v, links %+v", len(cut.Stands), l.IDs, l.Links)
	}
	alone := mappedNow(t, rowOf("n", 20))
	cut = SetApart(before, alone, []Separation{{Known: 0, Other: -1, Find: 0}}, DefaultSettings(), builder(alone.Records))
	if l = Trace(before, cut, Evidence{}, DefaultSettings(), 1); len(l.Links) != 0 {
		t.Errorf("a find alone is linked: %+v", l.Links)
	}
}

// TestWordsOfCorrections: a removed stand is linked to nothing, a stand with other names takes all
// finds on its ground, a correction may make a link, and what was missed is carried; by hand.
func TestWordsOfCorrections(t *testing.T) {
	before, s := knownOf(t, rowOf("k", 0, 20, 40, 60, 80, 100)), DefaultSettings()
	now := mappedNow(t, rowOf("n", 0, 100))
	if l := Trace(before, now, Evidence{}, s, 1); len(l.Groups) != 2 || len(l.Links) != 2 {
		t.Fatalf("two finds at the ends of a stand: %+v", l)
	}
	before.Known[0].Same = []string{"another"}
	if l := Trace(before, now, Evidence{}, s, 1); len(l.Groups) != 1 || len(l.Links) != 1 {
		t.Errorf("as one stand: %+v", l)
	}
	before.Known[0].Same, before.Known[0].Out = nil, Misidentified
	if l := Trace(before, now, Evidence{}, s, 1); len(l.Links) != 0 || l.Fates[0] != Misidentified || len(l.Looks[0].Left) != 0 {
		t.Errorf("a look-alike: %+v", l)
	}
	before.Known[0].Out = ""
	far := mappedNow(t, rowOf("f", 500))
	far.Same = []Pair{{0, 0}}
	if l := Trace(before, far, Evidence{}, s, 1); len(l.Links) != 1 || l.IDs[0] != before.Known[0].ID || math.Abs(float64(l.Links[0].Apart)-388.7) > 0.2 {
		// 400 m between the plants, less two radii of 100 m2: 5.64 m each
		t.Errorf("a link that was told: %+v, %v", l.Links, l.IDs)
	}
	gone := rowOf("g", 0, 20, 40, 60, 80, 100)
	for i := range gone {
		gone[i].Detected, gone[i].PatchArea = false, 0
		gone[i].Begin, gone[i].End = survey.DayOf(time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC)), survey.DayOf(time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC))
	}
	absent := mappedNow(t, gone)
	if l := Trace(before, absent, Evidence{}, s, 1); l.Fates[0] != NotDetected {
		t.Fatalf("looked for in vain: %q", l.Fates[0])
	}
	before.Known[0].Missed = time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC)
	if l := Trace(before, absent, Evidence{}, s, 1); l.Fates[0] != NotResurveyed || len(l.Looks[0].Left) != 6 {
		t.Errorf("what was missed: %q, %d left", l.Fates[0], len(l.Looks[0].Left))
	}
	before.Known[0].Missed = time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)
	if l := Trace(before, absent, Evidence{}, s, 1); l.Fates[0] != NotDetected {
		t.Errorf("a look after what was missed: %q", l.Fates[0])
	}
}
