package result

import (
	"strings"
	"testing"

	"driftreach/internal/drift"
)

// TestCautionsSayWhatIsThere: a batch has cautions only about what it contains; the texts were
// written by hand.
func TestCautionsSayWhatIsThere(t *testing.T) {
	const (
		travel  = "standard error of about 100 %"
		bands   = "P10 to P90 of reach and exposure come from 200 draws. They cover only"
		assumed = "Assumed for this batch, without a local measurement: a, b."
	)
	reaches := []drift.Reach{{LengthKm: 1}}
	for _, tt := range []struct {
		name string
		run  Run
		want map[string]bool
	}{
		{"nothing at risk, no draws", Run{}, map[string]bool{travel: false, bands: false, assumed: false}},
		{"a reach", Run{Reaches: reaches}, map[string]bool{travel: true, bands: false, assumed: false}},
		{"draws", Run{Draws: 200}, map[string]bool{travel: false, bands: true, assumed: false}},
		{"all", Run{Reaches: reaches, Draws: 200, Assumed: []string{"a", "b"}}, map[string]bool{travel: true, bands: true, assumed: true}},
	} {
		all := strings.Join(Cautions(&tt.run), "\n")
		for words, want := range tt.want {
			if strings.Contains(all, words) != want {
				t.Errorf("%s: %q there: %v, want %v", tt.name, words, !want, want)
			}
		}
	}
}

// TestPageCautions: a page to look at says where the assumed settings are listed, in place of their
// names; all else is as in Cautions.
func TestPageCautions(t *testing.T) {
	for _, run := range []*Run{{Draws: 200}, {Draws: 200, Assumed: []string{"drift.seed", "b"}}} {
		all, page := Cautions(run), PageCautions(run)
		for i := range all {
			want := all[i]
			if strings.Contains(want, "drift.seed") {
				want = "What nobody measured here is assumed: the page of this batch, report.html, names every such value."
			}
			if len(page) != len(all) || page[i] != want {
				t.Errorf("%q, want %q", page, want)
			}
		}
	}
}

// TestOneOfTheStands: the caution about stands not seen in full is in the singular for one stand
// and in the plural for two; by hand, of half an acre each.
func TestOneOfTheStands(t *testing.T) {
	for n, want := range map[int]string{
		1: "1 of the stands was not looked at in full this quarter: 0.50 infested acres of them are as last known, marked carried.",
		2: "2 of the stands were not looked at in full this quarter: 1.00 infested acres of them are as last known, marked carried.",
	} {
		run := &Run{Stands: make([]Stand, 3)}
		for i := range n {
			run.Stands[i].Parts.Carried = 5_000_000_000
		}
		if all := strings.Join(Cautions(run), "\n"); !strings.Contains(all, want) {
			t.Errorf("%q is not said", want)
		}
	}
}

// TestCautionsAreSentences: each caution is plain text that fits a map's description, a report and
// a JSON member. The most important comes first.
func TestCautionsAreSentences(t *testing.T) {
	all := Cautions(&Run{Reaches: []drift.Reach{{}}, Draws: 200, Setback: 30, RiskShare: 0.05, Assumed: []string{"a"}})
	if !strings.HasPrefix(all[0], "This is a planning aid") {
		t.Errorf("begins with %q", all[0])
	}
	for _, c := range all {
		if !strings.HasSuffix(c, ".") || strings.ContainsAny(c, "<>\n\t") || len(c) > 300 {
			t.Errorf("no plain sentence: %q", c)
		}
	}
}
