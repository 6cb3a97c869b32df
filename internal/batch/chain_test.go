package batch

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/disk"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/lineage"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
)

// link is one quarter of a chain: what was observed, and the folder it is
// delivered into.
type link struct {
	in       observed.Quarter
	dir      string
	settings *settings.Settings // nil for chainSettings
}

// chainSettings are the defaults without draws, for speed.
func chainSettings() settings.Settings {
	s := settings.Default()
	s.Drift.Draws = 0
	return s
}

// deliver computes a quarter that continues the folder last, blank for none,
// and writes its folder.
func (l link) deliver(t interface{ Fatal(...any) }, last string, workers int) *result.Run {
	host, s := host.Host{Workers: workers}, chainSettings()
	if l.settings != nil {
		s = *l.settings
	}
	in := l.in
	in.Records.Listed = slices.Clone(in.Records.Listed)
	var err error
	if last != "" {
		if in, err = GoOn(context.Background(), earlier.Folder{Name: filepath.Base(last), Path: last, Version: "test"}, in, s, host); err != nil {
			t.Fatal(err)
		}
	}
	run, err := Compute(context.Background(), in, s, host)
	if err != nil {
		t.Fatal(err)
	}
	err = folder.Make(context.Background(), folder.Out{Dir: l.dir}, func(f *folder.Folder) error {
		return Delivery{Version: "test", Settings: s, Inputs: in.Files, Water: in.WaterContent(), Corrections: in.Corrections}.Deliver(f, run, host)
	})
	if err != nil {
		t.Fatal(err)
	}
	return run
}

var (
	chainFrame   = earth.NewFrame(orb.Point{-40, -33})
	chainStreams = []stream.Centerline{
		{ID: "a", Name: "Long Water", FlowShare: geo.Share(math.NaN()), BarrierPass: geo.Share(math.NaN()), Path: chainLine(0)},
		{ID: "b", Name: "", FlowShare: geo.Share(math.NaN()), BarrierPass: geo.Share(math.NaN()), Path: chainLine(400)},
		{ID: "c", Name: "Side Water", FlowShare: geo.Share(math.NaN()), BarrierPass: geo.Share(math.NaN()), Path: chainLine(800)},
	}
)

// chainLine is a line from north to south at an x of the frame.
func chainLine(x float64) orb.LineString {
	return orb.LineString{chainFrame.Inverse(orb.Point{x, 600}), chainFrame.Inverse(orb.Point{x, -600})}
}

// drawQuarter draws one quarter of a survey over three streams: some places are
// found, some found blank, some left out; ids come back from quarter to quarter.
func drawQuarter(t *rapid.T, q survey.Quarter) observed.Quarter {
	in := observed.Quarter{Quarter: q, Centerlines: chainStreams, ExtraColumns: []string{"crew" + fmt.Sprint(q.Number)}}
	n := rapid.IntRange(0, 25).Draw(t, "records")
	for i := range n {
		// 3 m off the middle between two streams, where a carried position, rounded to
		// a centimetre, could change sides
		at := orb.Point{float64(rapid.IntRange(0, 45).Draw(t, "x"))*20 + 3, float64(rapid.IntRange(-25, 25).Draw(t, "y")) * 20}
		r := survey.Record{
			ID: fmt.Sprintf("p%02d", i), Position: chainFrame.Inverse(at), Detected: rapid.IntRange(0, 4).Draw(t, "detected") > 0,
			Status: survey.Status(rapid.IntRange(0, 3).Draw(t, "status")), Cover: math.NaN(), StemHeight: geo.Meters(math.NaN()),
			PatchArea: geo.SquareMeters(rapid.IntRange(0, 600).Draw(t, "area")), Notes: survey.Notes{Extra: []string{rapid.StringMatching(`[a-z"\\=+-]{0,4}`).Draw(t, "crew")}}.Pack(),
		}
		if rapid.IntRange(0, 9).Draw(t, "drawn") == 0 {
			half := rapid.Float64Range(2, 15).Draw(t, "half")
			corner := func(x, y float64) orb.Point { return chainFrame.Inverse(orb.Point{at[0] + x, at[1] + y}) }
			ring := orb.Ring{corner(-half, -half), corner(half, -half), corner(half, half), corner(-half, half)}
			r.Outline, r.PatchArea = orb.MultiPolygon{{append(ring, ring[0])}}, 0
		}
		in.Records.Listed = append(in.Records.Listed, r)
	}
	if rapid.Bool().Draw(t, "given") {
		in.SurveyedGiven = true
		for range rapid.IntRange(0, 3).Draw(t, "grounds") {
			x := float64(rapid.IntRange(0, 900).Draw(t, "walked"))
			in.Surveyed = append(in.Surveyed, surveyed.Ground{Lines: orb.MultiLineString{chainLine(x)}})
		}
	}
	return in
}

// TestPartsOfChangeAddUp: over random chains, in fixed point and for every row of the summary, the
// previous acres + observed + new - not detected are the acres now. The previous acres are those of the
// previous batch's row, except for the rounding of parts. Carried stands keep their figures, identities
// are unique and are never given twice, and any number of workers gives the same bytes.
func TestPartsOfChangeAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		top, err := os.MkdirTemp(scratch(), "chain")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(top)
		given, last := map[string]bool{}, ""
		var before *result.Run
		q := survey.Quarter{Year: 2026, Number: 1}
		for range rapid.IntRange(2, 3).Draw(t, "quarters") {
			l := link{in: drawQuarter(t, q), dir: filepath.Join(top, q.String())}
			run := l.deliver(t, last, 1)
			if before != nil {
				mustAddUp(t, before, run)
				mustCarry(t, before, run)
				if rapid.IntRange(0, 4).Draw(t, "again") == 0 {
					other := link{in: l.in, dir: filepath.Join(top, "other")}
					other.deliver(t, last, 8)
					mustBeSame(t, l.dir, other.dir)
				}
			}
			mustBeNew(t, given, run)
			before, last, q = run, l.dir, q.Next()
		}
	})
}

// mustAddUp checks that the parts of change of every row add up.
func mustAddUp(t *rapid.T, before, run *result.Run) {
	was := map[[2]string]int64{}
	for _, s := range result.Summarize(before) {
		was[[2]string{string(s.Scope), s.Name}] = s.Infested
	}
	for _, s := range result.Summarize(run) {
		c := s.Change
		if c.Previous+c.Restated+c.Observed+c.New+c.FoundAgain+c.FirstLooked-c.NotDetected != s.Infested {
			t.Fatalf("%s %q: %+v does not make %d", s.Scope, s.Name, c, s.Infested)
		}
		key := [2]string{string(s.Scope), s.Name}
		// Both batches round their own way, half of the last digit of the coarser; a row
		// also takes up to one of each of the four statuses and three parts.
		within := lastDigit(before, run) / 2
		if s.Scope != result.Total {
			within = 8 * lastDigit(before, run)
		}
		if d := c.Previous - was[key]; d < -within || d > within {
			t.Fatalf("%s %q was %d in the batch before, not %d", s.Scope, s.Name, was[key], c.Previous)
		}
		delete(was, key)
	}
	for key, acres := range was {
		if acres > 8*lastDigit(before, run) {
			t.Fatalf("%v had %d and has no row", key, acres)
		}
	}
}

// mustCarry checks that what nobody looked at keeps its figures.
func mustCarry(t *rapid.T, before, run *result.Run) {
	stood := map[string]*result.Stand{}
	for i := range before.Stands {
		stood[before.Stands[i].ID] = &before.Stands[i]
	}
	for i := range run.Stands {
		if s := &run.Stands[i]; s.Change == lineage.NotResurveyed {
			b := stood[s.ID]
			k := &run.Previous.Known[s.Parents[0]] // under the present rules
			if acre(s.Gross) != acre(k.Gross) || acre(s.Infested) != acre(k.Infested) || acre(s.Canopy) != acre(k.Canopy) || s.Status != b.Status || len(s.Members) != len(b.Members) {
				t.Fatalf("%s is carried as %+v, was %+v", s.ID, s.Stand, b.Stand)
			}
			if then := run.Previous.Then[s.Parents[0]].Infested; then != acre(b.Infested) {
				t.Fatalf("%s had %d, and is told to have had %d", s.ID, acre(b.Infested), then)
			}
			for _, m := range b.Members {
				then := before.Records.Listed[m]
				now := carriedAs(run, s.Members, then.ID, before.Quarter)
				if now == nil {
					t.Fatalf("record %s of %s is not carried", then.ID, s.ID)
				}
				if now.Status != then.Status || earth.Distance(now.Position, then.Position) > 0.02 || now.PatchArea != then.PatchArea || len(now.Outline) != len(then.Outline) {
					t.Fatalf("record %s is carried as %+v, was %+v", then.ID, *now, then)
				}
			}
		}
	}
}

// carriedAs returns the record, of some, that one of the batch before is carried as,
// nil for none. Where this quarter has a record of its id it has the quarter of that
// batch after an @, and so stands elsewhere in the order of ids.
func carriedAs(run *result.Run, of []int32, id string, then survey.Quarter) *survey.Record {
	for _, wanted := range []string{id + "@" + then.String(), id} {
		for _, m := range of {
			if run.Records.Listed[m].ID == wanted {
				return &run.Records.Listed[m]
			}
		}
	}
	return nil
}

// lastDigit returns how many grains the last digit of the coarser of two runs is.
func lastDigit(a, b *result.Run) int64 {
	return int64(math.Pow10(geo.GrainDecimals - int(min(a.AcreDecimals, b.AcreDecimals))))
}

// acre returns an area as the next batch reads it.
func acre(a geo.SquareMeters) int64 { return a.Grains() }

// mustBeNew checks that identities and records of a run are unique, and that new stands have
// identities that were never given before.
func mustBeNew(t *rapid.T, given map[string]bool, run *result.Run) {
	here := map[string]bool{}
	for i := range run.Stands {
		s := &run.Stands[i]
		if here[s.ID] || given[s.ID] && strings.HasPrefix(s.ID, run.Quarter.String()) {
			t.Fatalf("%s is given twice", s.ID)
		}
		here[s.ID] = true
	}
	for i := range run.Absent {
		if here[run.Absent[i].ID] {
			t.Fatalf("%s is there and absent", run.Absent[i].ID)
		}
	}
	for id := range here {
		given[id] = true
	}
	for i := 1; i < len(run.Records.Listed); i++ {
		if run.Records.Listed[i-1].ID >= run.Records.Listed[i].ID {
			t.Fatalf("records %s and %s are out of order", run.Records.Listed[i-1].ID, run.Records.Listed[i].ID)
		}
	}
}

// mustBeSame checks that two folders have the same bytes.
func mustBeSame(t *rapid.T, a, b string) {
	names, err := disk.FilesUnder(disk.System(), a)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		one, err := os.ReadFile(filepath.Join(a, name))
		if err != nil {
			t.Fatal(err)
		}
		if two, err := os.ReadFile(filepath.Join(b, name)); err != nil || string(one) != string(two) {
			t.Fatalf("%s differs with the number of workers", name)
		}
	}
}
