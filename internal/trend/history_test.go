package trend

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/internal/survey"
)

func quarter(t testing.TB, text string) survey.Quarter {
	t.Helper()
	q, err := survey.ParseQuarter(text)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// totals makes batches with only a total, in consecutive quarters from first, with the given acres
// of every measure; a negative value is a quarter without a batch.
func totals(t testing.TB, first string, acres ...float64) []Batch {
	var out []Batch
	q := quarter(t, first)
	for _, v := range acres {
		if v >= 0 {
			row := Row{Scope: "total"}
			for m := range row.Figures {
				row.Figures[m] = int64(v*PerUnit + 0.5)
			}
			out = append(out, Batch{Quarter: q, Rows: []Row{row}, Apart: true})
		}
		q = q.Next()
	}
	return out
}

func TestAssembleKeepsMissingQuartersInTheirPlace(t *testing.T) {
	batches := totals(t, "2025Q3", 3, -1, 2, -1, -1, 1)
	river := Row{Scope: "waterBody", Name: "Long Water", Figures: Figures{Gross: 5}}
	batches[1].Rows = append(batches[1].Rows, Row{Scope: "noStream"}, river, Row{Scope: "unnamed"})
	h, err := Assemble([]Batch{batches[2], batches[0], batches[1]}, DefaultRules())
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, q := range h.Quarters {
		names = append(names, q.String())
	}
	if d := cmp.Diff(strings.Fields("2025Q3 2025Q4 2026Q1 2026Q2 2026Q3 2026Q4"), names); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]bool{true, false, true, false, false, true}, h.Known); d != "" {
		t.Error(d)
	}
	var sections []string
	for _, s := range h.Sections {
		sections = append(sections, string(s.Scope)+" "+s.Name)
	}
	if d := cmp.Diff([]string{"total ", "waterBody Long Water", "unnamed ", "noStream "}, sections); d != "" {
		t.Error(d)
	}
	// No row is no figure, not 0.
	if f := h.Sections[1].Figures; f[0] != nil || f[2] == nil || f[2][Gross] != 5 || f[5] != nil {
		t.Errorf("figures %v", f)
	}
}

func TestAssembleRefuses(t *testing.T) {
	twice := totals(t, "2026Q1", 1, 2)
	twice[1].Rows = append(twice[1].Rows, twice[1].Rows[0])
	for name, c := range map[string]struct {
		batches []Batch
		said    string
	}{
		"one quarter twice":    {append(totals(t, "2026Q1", 1, 2), totals(t, "2026Q2", 3)...), "two batches of 2026Q2"},
		"a section twice":      {twice, "batch 2026Q2 has two rows for total"},
		"more than a century":  {append(totals(t, "1026Q3", 1), totals(t, "2026Q3", 3)...), "4000 quarters apart"},
		"one too many":         {append(totals(t, "1926Q3", 1), totals(t, "2026Q3", 3)...), "400 quarters apart"},
		"twice at the far end": {append(totals(t, "1926Q4", 1), totals(t, "2026Q3", 3, 4)...), "400 quarters apart"},
	} {
		if _, err := Assemble(c.batches, DefaultRules()); err == nil || !strings.Contains(err.Error(), c.said) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if h, err := Assemble(append(totals(t, "1926Q4", 1), totals(t, "2026Q3", 3)...), DefaultRules()); err != nil || len(h.Quarters) != maxQuarters {
		t.Errorf("a century: %v", err)
	}
	if h, err := Assemble(nil, DefaultRules()); err != nil || len(h.Trends) != 0 {
		t.Errorf("nothing: %v", err)
	}
}

// The order in which the batches are named does not change the history.
func TestOrderOfBatchesPlaysNoPart(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var batches []Batch
		q := quarter(t, "2024Q2")
		for range rapid.IntRange(1, 9).Draw(r, "quarters") {
			q = q.Next()
			if rapid.Bool().Draw(r, "missing") {
				continue
			}
			b := Batch{Quarter: q, Rows: []Row{{Scope: "total", Figures: Figures{rapid.Int64Range(0, 99).Draw(r, "gross")}}}}
			for _, name := range rapid.SliceOfDistinct(rapid.SampledFrom([]string{"a", "b", "c"}), func(s string) string { return s }).Draw(r, "rows") {
				b.Rows = append(b.Rows, Row{Scope: "waterBody", Name: name})
			}
			batches = append(batches, b)
		}
		first, err := Assemble(batches, DefaultRules())
		if err != nil {
			r.Fatal(err)
		}
		second, err := Assemble(rapid.Permutation(batches).Draw(r, "again"), DefaultRules())
		if d := cmp.Diff(first, second); err != nil || d != "" {
			r.Fatalf("%v\n%s", err, d)
		}
		if d := cmp.Diff(first.Trends, second.Trends); d != "" {
			r.Fatal(d)
		}
	})
}
