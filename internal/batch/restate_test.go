package batch

import (
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/unit"
)

// plantsAt are finds in metres of the chain's frame, of the default patch where the
// area is 0.
func plantsAt(xya ...[3]float64) []survey.Record {
	var out []survey.Record
	for i, p := range xya {
		out = append(out, survey.Record{
			ID: "p" + string(rune('a'+i)), Position: chainFrame.Inverse(orb.Point{p[0], p[1]}), Detected: true,
			PatchArea: geo.SquareMeters(p[2]), Cover: math.NaN(), StemHeight: geo.Meters(math.NaN()), Notes: "",
		})
	}
	return out
}

// inputsOf are the files a quarter came from, told apart by their words.
func inputsOf(streams, units string) []mapfile.File {
	files := []mapfile.File{{Name: "streams", Role: "streams", SHA256: streams}}
	if units != "" {
		files = append(files, mapfile.File{Name: "units", Role: "units", SHA256: units})
	}
	return files
}

// halves are two units, the east of a line of the frame and the west of it.
func halves(x float64, ids ...string) []unit.Unit {
	area := func(from, to float64) orb.MultiPolygon {
		ring := orb.Ring{{from, -900}, {to, -900}, {to, 900}, {from, 900}, {from, -900}}
		for i, p := range ring {
			ring[i] = chainFrame.Inverse(p)
		}
		return orb.MultiPolygon{{ring}}
	}
	return []unit.Unit{{ID: ids[0], Name: ids[0], Areas: area(-900, x)}, {ID: ids[1], Name: ids[1], Areas: area(x, 1800)}}
}

// renamed are the chain's streams with other names.
func renamed(names ...string) []stream.Centerline {
	out := slices.Clone(chainStreams)
	for i, name := range names {
		out[i].Name = name
	}
	return out
}

// partsOf are the summary's rows by scope and name.
func partsOf(run *result.Run) map[string]result.Parts {
	out := map[string]result.Parts{}
	for _, s := range result.Summarize(run) {
		out[string(s.Scope)+" "+s.Name] = s.Change
	}
	return out
}

// chainOfTwo delivers two quarters, the second on other terms.
func chainOfTwo(t *testing.T, first, second link) (*result.Run, *result.Run) {
	t.Helper()
	first.dir, second.dir = filepath.Join(t.TempDir(), "first"), filepath.Join(t.TempDir(), "second")
	first.in.Quarter, second.in.Quarter = survey.Quarter{Year: 2026, Number: 1}, survey.Quarter{Year: 2026, Number: 2}
	return first.deliver(t, "", 2), second.deliver(t, first.dir, 2)
}

func messages(run *result.Run, code string) string {
	var told []string
	for _, f := range run.Findings {
		if f.Rule.Code == code {
			told = append(told, f.Message)
			if f.Rule.Severity == check.Note {
				told = append(told, "(a note)")
			}
		}
	}
	return strings.Join(told, "; ")
}

// An acre is 4046.8564224 m2: two plants of the default patch of 0.1 acre, far apart,
// and one measured. At 0.3 acres the two are 0.4 acres more, which is restated, in the
// total, on their stream and in their unit, whether somebody saw them or not.
func TestAnotherDefaultPatchIsRestated(t *testing.T) {
	wide := chainSettings()
	wide.Stands.DefaultPatch = 0.3
	records := plantsAt([3]float64{20, 0, 0}, [3]float64{20, 300, 0}, [3]float64{420, 0, 500})
	in := observed.Quarter{Records: survey.Records{Listed: records}, Centerlines: chainStreams, Units: halves(200, "west", "east"), Files: inputsOf("s", "u")}
	seen, unseen := in, in
	unseen.Records.Listed = records[2:]
	for name, next := range map[string]observed.Quarter{"seen": seen, "carried": unseen} {
		_, run := chainOfTwo(t, link{in: in}, link{in: next, settings: &wide})
		parts := partsOf(run)
		for _, row := range []string{"total ", "waterBody Long Water", "unit west"} {
			p := parts[row]
			if p.Restated != 4_000_000_000 || p.Observed != 0 || p.New != 0 || p.NotDetected != 0 {
				t.Errorf("%s, %s: %+v, want 0.4 acres restated and nothing else", name, row, p)
			}
		}
		if p := parts["unit east"]; p.Restated != 0 || p.Observed != 0 {
			t.Errorf("%s, unit east: %+v, want nothing restated", name, p)
		}
		told := messages(run, "previous-settings")
		if !strings.Contains(told, "stands.default_patch_acres; its 0.32 infested acres are 0.72 under the present ones") {
			t.Errorf("%s: %s", name, told)
		}
	}
}

// TestDefaultsAgainstMeasures: two plants of 40 and 60 m2, then the same two unmeasured, on the default
// of 0.1 acre (404.68564224 m2) each: they are 0.2 of 0.2 acres, and none of 100 m2 = 0.02471 acres did.
// Where both quarters measured, or neither, nothing is told. By hand.
func TestDefaultsAgainstMeasures(t *testing.T) {
	of := func(a, b float64) observed.Quarter {
		return observed.Quarter{Records: survey.Records{Listed: plantsAt([3]float64{20, 0, a}, [3]float64{20, 300, b})}, Centerlines: chainStreams, Files: inputsOf("s", "")}
	}
	for name, c := range map[string]struct {
		then, now observed.Quarter
		want      string
	}{
		"measured, then not": {of(40, 60), of(0, 0), "0.20 of 0.20 infested acres rest on the default patch, and 0 of 0.0247 did in 2026Q1"},
		"not, then measured": {of(0, 0), of(40, 60), "0 of 0.0247 infested acres rest on the default patch, and 0.20 of 0.20 did in 2026Q1"},
		"both measured":      {of(40, 60), of(400, 60), ""}, "neither": {of(0, 0), of(0, 0), ""},
	} {
		_, run := chainOfTwo(t, link{in: c.then}, link{in: c.now})
		told := messages(run, "previous-defaults")
		if (told == "") != (c.want == "") || !strings.Contains(told, c.want) {
			t.Errorf("%s: %q, want %q", name, told, c.want)
		}
	}
}

// TestStatusesMissing: of three stands two were treated or standing dead. A quarter in which no record has
// a status makes them live, which is told; one status in the quarter, or stands that were all untreated
// before, and nothing is. Stands that nobody looked at again keep theirs, so nothing is told either.
func TestStatusesMissing(t *testing.T) {
	of := func(statuses ...survey.Status) observed.Quarter {
		records := plantsAt([3]float64{20, 0, 40}, [3]float64{20, 300, 60}, [3]float64{420, 0, 50})
		for i := range statuses {
			records[i].Status = statuses[i]
		}
		return observed.Quarter{Records: survey.Records{Listed: records[:len(statuses)]}, Centerlines: chainStreams, Files: inputsOf("s", "")}
	}
	none, treated, dead, again := survey.Untreated, survey.Treated, survey.StandingDead, survey.Resprout
	for name, c := range map[string]struct {
		then, now observed.Quarter
		want      string
	}{
		"no status now":             {of(treated, dead, none), of(none, none, none), "in 2026Q1 and count as live and untreated now: 2 (2026Q1-0001, 2026Q1-0002)"},
		"one was growing again":     {of(treated, again, none), of(none, none, none), "untreated now: 1 (2026Q1-0001)"},
		"one status now":            {of(treated, dead, none), of(none, none, dead), ""},
		"none then":                 {of(none, none, none), of(none, none, none), ""},
		"only the live one was met": {of(none, treated, dead), of(none), ""},
	} {
		_, run := chainOfTwo(t, link{in: c.then}, link{in: c.now})
		told := messages(run, "previous-statuses")
		if (told == "") != (c.want == "") || !strings.Contains(told, c.want) {
			t.Errorf("%s: %q, want %q", name, told, c.want)
		}
	}
}

// A stream's new name moves its acres from one row to another as restated; what is not
// detected counts under the new name. Nothing is observed.
func TestRenamedStreamsAreRestated(t *testing.T) {
	records := plantsAt([3]float64{20, 0, 404.68564224}, [3]float64{20, 300, 404.68564224}, [3]float64{420, 0, 500})
	then := observed.Quarter{Records: survey.Records{Listed: records}, Centerlines: chainStreams, Files: inputsOf("s", "")}
	now := observed.Quarter{Records: survey.Records{Listed: slices.Clone(records)}, Centerlines: renamed("Short Water", "Middle Water"), Files: inputsOf("t", "")}
	now.Records.Listed[1].Detected, now.Records.Listed[1].PatchArea = false, 2000
	_, run := chainOfTwo(t, link{in: then}, link{in: now})
	parts := partsOf(run)
	tenth := int64(1_000_000_000)
	for row, want := range map[string]result.Parts{
		"waterBody Long Water":  {Previous: 2 * tenth, Restated: -2 * tenth},
		"waterBody Short Water": {Restated: 2 * tenth, NotDetected: tenth},
	} {
		if parts[row] != want {
			t.Errorf("%s: %+v, want %+v", row, parts[row], want)
		}
	}
	if p := parts["waterBody Middle Water"]; p.Observed != 0 || p.Restated <= 0 || p.Restated != parts["unnamed "].Previous {
		t.Errorf("the one that had no name: %+v, was %+v", p, parts["unnamed "])
	}
	if total := parts["total "]; total.Restated != 0 || total.Observed != 0 || total.NotDetected != tenth {
		t.Errorf("total: %+v", total)
	}
	if got := run.Previous.ReachApart; !slices.Equal(got, []string{"streams"}) {
		t.Errorf("reach is made otherwise by %q", got)
	}
	if told := messages(run, "previous-streams"); !strings.Contains(told, "other streams than in 2026Q1: its stands are measured with the present streams and zone, and its reach is not compared") {
		t.Errorf("told %q", told)
	}
}

// Units drawn anew move acres between their rows as restated, and observe nothing.
func TestRedrawnUnitsAreRestated(t *testing.T) {
	records := plantsAt([3]float64{20, 0, 404.68564224}, [3]float64{420, 0, 809.37128448})
	then := observed.Quarter{Records: survey.Records{Listed: records}, Centerlines: chainStreams, Units: halves(200, "a", "b"), Files: inputsOf("s", "u")}
	now := observed.Quarter{Records: survey.Records{Listed: slices.Clone(records)}, Centerlines: chainStreams, Units: halves(600, "b", "c"), Files: inputsOf("s", "v")}
	_, run := chainOfTwo(t, link{in: then}, link{in: now})
	parts := partsOf(run)
	tenth := int64(1_000_000_000)
	for row, want := range map[string]result.Parts{
		"total ": {Previous: 3 * tenth}, "unit a": {Previous: tenth, Restated: -tenth},
		"unit b": {Previous: 2 * tenth, Restated: tenth}, "unit c": {},
	} {
		if parts[row] != want {
			t.Errorf("%s: %+v, want %+v", row, parts[row], want)
		}
	}
	if told := messages(run, "previous-units"); !strings.Contains(told, "the unit files of 2026Q1 were others") || strings.Contains(told, "(a note)") {
		t.Errorf("told %q", told)
	}
}

// Rounding in files restates nothing, nor do settings that do not concern acres, or do not concern
// these stands.
func TestRestatedIsNeverRounding(t *testing.T) {
	in := observed.Quarter{Records: survey.Records{Listed: plantsAt([3]float64{20, 0, 431.7}, [3]float64{27, 8, 377.3}, [3]float64{31, 3, 97.1})}, Centerlines: chainStreams, Files: inputsOf("s", "")}
	other := chainSettings()
	other.Stands.DefaultPatch, other.Aquatic.Setback = 0.3, 45
	_, run := chainOfTwo(t, link{in: in}, link{in: in, settings: &other})
	for k := range run.Previous.Known {
		if then, now := run.Previous.Then[k].Infested, run.Previous.Known[k].InfestedAcres(); then != now {
			t.Errorf("%s: %d grains then, %d restated", run.Previous.Known[k].ID, then, now)
		}
	}
	if told := messages(run, "previous-settings"); !strings.Contains(told, "are the same under the present ones") {
		t.Errorf("told %q", told)
	}
	if got := run.Previous.ReachApart; !slices.Equal(got, []string{"aquatic.setback_m", "stands.default_patch_acres"}) {
		t.Errorf("reach is made otherwise by %q", got)
	}
	if zone := run.Previous.Known[0].Zone; !(zone > 0) {
		t.Errorf("zone of the known stand is %v under the present streams", zone)
	}
}
