package batch

import (
	"encoding/csv"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/correction"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// summaryCells reads a folder's summary.csv, what a user reads: figures by row and
// column, the quarter's own name taken out.
func summaryCells(t *testing.T, dir string, of survey.Quarter) map[string]string {
	t.Helper()
	file, err := os.Open(filepath.Join(dir, "summary.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, row := range rows[1:] {
		for i, cell := range row {
			if name := rows[0][i]; name != "quarter" && name != "previous_quarter" {
				out[strings.Join(row[:3], "/")+" "+name] = strings.ReplaceAll(cell, of.String(), "now")
			}
		}
	}
	return out
}

// notTold lists the figures that differ between two summaries.
func notTold(a, b map[string]string) []string {
	var out []string
	for key := range maps.Keys(a) {
		if a[key] != b[key] {
			out = append(out, key+": "+a[key]+", "+b[key])
		}
	}
	slices.Sort(out)
	return out
}

// severest returns the highest severity among the findings about the previous batch and about
// corrections.
func severest(run *result.Run) check.Severity {
	most := check.Note
	for _, f := range run.Findings {
		most = max(most, f.Rule.Severity)
	}
	return most
}

// TestNothingThatMovedAFigureIsANote: a quarter is continued unchanged, and with each
// possible difference: settings, units, streams, a gap, corrections. Where the findings
// are notes alone, which a reader is told "changed no figure", summary.csv is the same to
// the byte; where they say that infested acres are the same under the present rules, no
// row has anything restated.
func TestNothingThatMovedAFigureIsANote(t *testing.T) {
	records := plantsAt([3]float64{20, 0, 0}, [3]float64{27, 8, 431.7}, [3]float64{420, 0, 500}, [3]float64{20, 300, 0}, [3]float64{820, 0, 90})
	in := observed.Quarter{Records: survey.Records{Listed: records}, Centerlines: chainStreams, Units: halves(200, "west", "east"), Files: inputsOf("s", "u")}
	set := func(change func(*settings.Settings)) *settings.Settings {
		s := chainSettings()
		change(&s)
		return &s
	}
	wider := slices.Clone(chainStreams)
	wider[0].BankfullWidth = 30
	again := slices.Clone(chainStreams)
	slices.Reverse(again)
	q2 := survey.Quarter{Year: 2026, Number: 2}
	// by hand: the five plants' patches lie apart, so that where they are moves no acre
	for name, c := range map[string]struct {
		change func(*observed.Quarter)
		set    *settings.Settings
		moves  bool // by hand: a figure of summary.csv is another
	}{
		"default patch":         {set: set(func(s *settings.Settings) { s.Stands.DefaultPatch = 0.3 }), moves: true},
		"setback":               {set: set(func(s *settings.Settings) { s.Aquatic.Setback = 12 }), moves: true},
		"join distance":         {set: set(func(s *settings.Settings) { s.Stands.JoinDistance = 5 }), moves: true},
		"density":               {set: set(func(s *settings.Settings) { s.Stands.MinPoints = 2 }), moves: true},
		"kept within":           {set: set(func(s *settings.Settings) { s.Lineage.KeptWithin = 0.3 })},
		"position uncertainty":  {set: set(func(s *settings.Settings) { s.Lineage.Uncertainty = 12 })},
		"patch error":           {set: set(func(s *settings.Settings) { s.Uncertain.PatchOwn = 0.8 }), moves: true},
		"trend":                 {set: set(func(s *settings.Settings) { s.Trend.Correlation = 0.2 })},
		"limits":                {set: set(func(s *settings.Settings) { s.Limits.Records++ })},
		"units drawn anew":      {change: func(o *observed.Quarter) { o.Units, o.Files = halves(600, "west", "east"), inputsOf("s", "v") }, moves: true},
		"other units":           {change: func(o *observed.Quarter) { o.Units, o.Files = halves(200, "left", "right"), inputsOf("s", "v") }, moves: true},
		"units of another file": {change: func(o *observed.Quarter) { o.Files = inputsOf("s", "v") }},
		"streams renamed": {change: func(o *observed.Quarter) {
			o.Centerlines, o.Files = renamed("Short Water", "Middle Water"), inputsOf("t", "u")
		}, moves: true},
		"streams widened":         {change: func(o *observed.Quarter) { o.Centerlines, o.Files = wider, inputsOf("t", "u") }, moves: true},
		"streams of another file": {change: func(o *observed.Quarter) { o.Centerlines, o.Files = slices.Clone(chainStreams), inputsOf("t", "u") }},
		"a gap":                   {change: func(o *observed.Quarter) { o.Quarter = survey.Quarter{Year: 2026, Number: 3} }},
		"a look-alike": {change: func(o *observed.Quarter) {
			o.Corrections = []correction.Correction{{Date: q2.Begin(), Kind: correction.Misidentified, RecordID: "pc"}}
		}, moves: true},
	} {
		t.Run(name, func(t *testing.T) {
			first := link{in: in, dir: filepath.Join(t.TempDir(), "first")}
			first.in.Quarter = survey.Quarter{Year: 2026, Number: 1}
			first.deliver(t, "", 1)
			same, other := link{in: in, dir: filepath.Join(t.TempDir(), "same")}, link{in: in, dir: filepath.Join(t.TempDir(), "other"), settings: c.set}
			same.in.Quarter, other.in.Quarter = q2, q2
			if c.change != nil {
				c.change(&other.in)
			}
			base := same.deliver(t, first.dir, 1)
			run := other.deliver(t, first.dir, 1)
			apart := notTold(summaryCells(t, same.dir, q2), summaryCells(t, other.dir, other.in.Quarter))
			if c.moves != (len(apart) > 0) {
				t.Errorf("moves %v, and these differ: %q", c.moves, apart)
			}
			if len(apart) > 0 && severest(run) <= severest(base) && severest(run) == check.Note {
				t.Errorf("nothing but notes, which \"changed no figure\", and these differ: %q", apart)
			}
			for _, f := range run.Findings {
				if !strings.Contains(f.Message, "the same under the present ones") {
					continue
				}
				for key, cell := range summaryCells(t, other.dir, other.in.Quarter) {
					if strings.HasSuffix(key, " restated_acres") && strings.Trim(cell, "0.") != "" && c.set != nil {
						t.Errorf("%s, and %s is %s", f.Message, key, cell)
					}
				}
			}
		})
	}
}
