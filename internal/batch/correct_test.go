package batch

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/correction"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/margin"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// drawCorrections draws a quarter's corrections of stands and records of the previous batch and of
// this one; some name stands or records that do not exist.
func drawCorrections(t *rapid.T, before *result.Run, in observed.Quarter) []correction.Correction {
	stands, records := []string{"2020Q1-0001"}, []string{"nothing"}
	for i := range before.Stands {
		stands = append(stands, before.Stands[i].ID)
	}
	for i := range before.Absent {
		stands = append(stands, before.Absent[i].ID)
	}
	for i := range before.Records.Listed {
		records = append(records, before.Records.Listed[i].ID)
	}
	for i := range in.Records.Listed {
		records = append(records, in.Records.Listed[i].ID)
	}
	var out []correction.Correction
	for i := range rapid.IntRange(0, 6).Draw(t, "corrections") {
		c := correction.Correction{
			File: "corrections.csv", Row: i + 1, Kind: rapid.SampledFrom(correction.Kinds()).Draw(t, "kind"),
			Date: in.Quarter.Begin().AddDate(0, 0, rapid.IntRange(-40, 60).Draw(t, "day")),
		}
		stand := func() string { return rapid.SampledFrom(stands).Draw(t, "stand") }
		switch pair := c.Kind == correction.SameStand || c.Kind == correction.NotSameStand; {
		case pair && rapid.Bool().Draw(t, "find"):
			c.RecordID, c.StandID = rapid.SampledFrom(records).Draw(t, "record"), stand()
		case pair:
			c.StandID, c.OtherID = stand(), stand()
		case rapid.Bool().Draw(t, "record's"):
			c.RecordID = rapid.SampledFrom(records).Draw(t, "record")
		default:
			c.StandID = stand()
		}
		out = append(out, c)
	}
	checked, _ := correction.Check(out, correction.Options{})
	return checked
}

// TestCorrectedPartsAddUp: over random chains with random corrections, every row adds
// up in fixed point, the previous acres are those that the previous batch printed, a look-alike is in no
// part except the restated one, identities are unique, and a batch that continues the
// folder knows all that was corrected before.
func TestCorrectedPartsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		top, err := os.MkdirTemp("", "corrected")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(top)
		given, last := map[string]bool{}, ""
		var before *result.Run
		known := 0
		q := survey.Quarter{Year: 2026, Number: 1}
		for range 3 {
			l := link{in: drawQuarter(t, q), dir: filepath.Join(top, q.String())}
			l.in.Records.Listed = l.in.Records.Listed[:min(12, len(l.in.Records.Listed))]
			if before != nil {
				l.in.Corrections = drawCorrections(t, before, l.in)
			}
			run := l.deliver(t, last, 2)
			if before != nil {
				mustAddUp(t, before, run)
				mustWithdraw(t, run)
			}
			mustBeNew(t, given, run)
			taken := len(correctionsIn(t, l.dir))
			if taken < known && len(l.in.Corrections) == 0 {
				t.Fatalf("the chain knew %d corrections and knows %d", known, taken)
			}
			before, last, q, known = run, l.dir, q.Next(), taken
		}
	})
}

// correctionsIn reads the corrections that the manifest of a folder lists.
func correctionsIn(t rapid.TB, dir string) []correction.Correction {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, folder.ManifestName))
	if err != nil {
		t.Fatal(err)
	}
	var m struct{ Corrections []mapfile.Correction }
	if err := json.Unmarshal(text, &m); err != nil {
		t.Fatal(err)
	}
	taken, err := mapfile.TakenUp(m.Corrections)
	if err != nil {
		t.Fatal(err)
	}
	return taken
}

// mustWithdraw checks that withdrawn stands are in no part of the change except the restated one, and
// in no list of stands now or before.
func mustWithdraw(t *rapid.T, run *result.Run) {
	out := map[string]bool{}
	restated, printed := int64(0), int64(0)
	for k := range run.Previous.Known {
		known := &run.Previous.Known[k]
		printed += run.Previous.Then[k].Infested
		restated += run.Previous.Restated[k]
		if known.Out == "" {
			continue
		}
		out[known.ID] = true
		if run.Previous.Restated[k] != 0 || run.Previous.Fates[k] != known.Out || run.Previous.Home[k] >= 0 {
			t.Fatalf("%s was taken out and has %d acres, fate %q and home %d", known.ID, run.Previous.Restated[k], run.Previous.Fates[k], run.Previous.Home[k])
		}
	}
	total := result.Summarize(run)[0].Change
	step := lastDigit(run, run)
	if d := total.Restated - (restated - printed); d < -step || d > step {
		t.Fatalf("%d are restated, and the stands tell %d", total.Restated, restated-printed)
	}
	for i := range run.Stands {
		if out[run.Stands[i].ID] {
			t.Fatalf("%s was taken out and is a stand", run.Stands[i].ID)
		}
	}
	for i := range run.Absent {
		if out[run.Absent[i].ID] {
			t.Fatalf("%s was taken out and is remembered as absent", run.Absent[i].ID)
		}
	}
	for i := range run.Visits {
		if k := run.Visits[i].StandID; out[k] && lineageOf(run, k) == lineage.Misidentified {
			t.Fatalf("%s was a look-alike and is to be visited", k)
		}
	}
}

// lineageOf returns why a stand was taken out.
func lineageOf(run *result.Run, id string) lineage.Change {
	for k := range run.Previous.Known {
		if run.Previous.Known[k].ID == id {
			return run.Previous.Known[k].Out
		}
	}
	return ""
}

// TestTakenCorrectionsAreReadBack: a manifest says all that the next quarter needs.
func TestTakenCorrectionsAreReadBack(t *testing.T) {
	want := []correction.Correction{{
		Date: time.Date(2026, 8, 10, 0, 0, 0, 0, time.UTC), Kind: correction.NotSameStand, RecordID: "r", StandID: "s", OtherID: "o",
		Reason: "why", Taken: "2026Q3", Effect: "done", Records: []string{"r"}, Stands: []string{"n"},
	}}
	got, err := mapfile.TakenUp(mapfile.ListedCorrections(want))
	if err != nil || len(got) != 1 || !got[0].Same(&want[0]) || got[0].Taken != want[0].Taken || got[0].Reason != "why" || got[0].Effect != "done" ||
		len(got[0].Records) != 1 || got[0].Stands[0] != "n" {
		t.Errorf("read back %+v, %v", got, err)
	}
	bad := mapfile.ListedCorrections(want)
	bad[0].Taken = "yesterday"
	if _, err := mapfile.TakenUp(bad); err == nil {
		t.Error("a quarter that is none is read")
	}
}

// A stand that a correction makes of a record of another is measured as what it is:
// how far off the acres of each known stand may be is told for that stand, also where
// the new ones lie among the others and records were put in order anew. Each of
// them, of 800, 400 and 10 m2, the small one taken out of the large, is held to what a
// survey of the stand alone tells.
func TestMarginsAreThoseOfEachKnownStand(t *testing.T) {
	at := func(x, y float64) orb.Point { return chainFrame.Inverse(orb.Point{x, y}) }
	record := func(id string, area geo.SquareMeters, p orb.Point) survey.Record {
		return survey.Record{ID: id, Position: p, Detected: true, PatchArea: area, Cover: 50, StemHeight: geo.Meters(math.NaN()), Notes: ""}
	}
	q := survey.Quarter{Year: 2026, Number: 1}
	first := link{dir: filepath.Join(t.TempDir(), "first"), in: observed.Quarter{Quarter: q, Centerlines: chainStreams, Records: survey.Records{Listed: []survey.Record{
		record("a", 400, at(10, 0)), record("a2", 400, at(10, 24)), record("b", 10, at(30, 0)), record("c", 400, at(500, 0)),
	}}}}
	if run := first.deliver(t, "", 1); len(run.Stands) != 2 {
		t.Fatalf("%d stands", len(run.Stands))
	}
	in := observed.Quarter{Quarter: q.Next(), Centerlines: chainStreams, Records: survey.Records{Listed: []survey.Record{record("n", 70, at(10, 300))}}}
	in.Corrections = []correction.Correction{{
		File: "corrections.csv", Row: 1, Kind: correction.NotSameStand, RecordID: "b", StandID: "2026Q1-0001", Date: q.Next().Begin(),
	}}
	s := chainSettings()
	in, err := GoOn(t.Context(), earlier.Folder{Name: "first", Path: first.dir, Version: "test"}, in, s, host.Host{Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	run, err := Compute(t.Context(), in, s, host.Host{Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	rules, err := s.Stages()
	if err != nil {
		t.Fatal(err)
	}
	known, before := run.Previous.Known, in.Previous
	if len(known) != 3 || len(run.Previous.Margins) != 3 || known[2].ID != "2026Q2-0001" || known[2].Infested > 10.1 {
		t.Fatalf("known are %+v", known)
	}
	for k := range known {
		if m := known[k].Members; len(m) != []int{2, 1, 1}[k] || before.Records[m[0]].ID != []string{"a", "c", "b"}[k] {
			t.Fatalf("%s has the records %v", known[k].ID, m)
		}
		alone := margin.Survey{Records: before.Records, Rules: rules.Stands, Settings: rules.Margin}
		alone.Observers = margin.NewCauses().Of(survey.Records{Listed: before.Records}, func(int) survey.Quarter { return q })
		form := alone.Infested(&known[k].Stand)
		want, got := form.Sigma(), run.Previous.Margins[k].Sigma()
		if math.Abs(float64(got-want)) > 1e-9*float64(want) || !(want > 0.05*known[k].Infested && want < known[k].Infested) {
			t.Errorf("%s of %.1f m2 is off by %.3f m2, want %.3f", known[k].ID, float64(known[k].Infested), float64(got), float64(want))
		}
	}
}
