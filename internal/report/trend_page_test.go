package report

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"driftreach/internal/result"
)

func trendPrinted(t testing.TB, from TrendSources) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteTrendPage(&b, from); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Of the worked history, whose live acres are 12 at both ends and fall by 0.56 a year. The first
// words are plain and have no p; the goal is mentioned; every column of verdicts says how many of
// twenty would occur by chance; title and name are the program's, escaped.
func TestTrendPageBeginsWithPlainWords(t *testing.T) {
	from := TrendSources{
		Version: "1.2.3", History: worked(t), Apart: []string{"The batches differ <in> something."},
		Ever:      []result.EverRow{{Quarter: "2021Q1", Stage: "live", Acres: fixed(0)}, {Quarter: "2025Q4", Stage: "live", Acres: fixed(12e8)}},
		Programme: Programme{Title: "Our <own> title", Name: "A & B", GoalAcres: 5, GoalYear: 2027},
	}
	p := composeTrend(from)
	if want := "12.00 acres are live in 2025Q4; on ground seen both times they are falling by 0.56 acres a year."; p.Headline[0] != want {
		t.Errorf("%q, want %q", p.Headline[0], want)
	}
	// two years from the end of 2025 on: 12 less 1.1167
	if goal := p.Headline[len(p.Headline)-1]; !strings.HasSuffix(goal, "live acres are not falling fast enough. A straight line from here leads to 10.88.") {
		t.Error(goal)
	}
	// a quarter of 12 acres; none where no share is known
	for share, want := range map[float64]string{0.25: "3.00 of the 12.00 infested acres are assumed: nobody measured those patches.", 0: "", math.NaN(): ""} {
		from.Assumed = share
		said := strings.Join(composeTrend(from).Headline, " ")
		if want != "" && !strings.Contains(said, want) || want == "" && strings.Contains(said, "assumed") {
			t.Errorf("%v: %s, want %q", share, said, want)
		}
	}
	page := trendPrinted(t, from)
	if strings.Count(page, "one verdict in twenty") != 2 {
		t.Error("chance is not told beside each table of verdicts")
	}
	for _, want := range []string{
		"<title>Our &lt;own&gt; title, 2021Q1 to 2025Q4</title>", "A &amp; B", "2021-01-01 to 2025-12-31, 20 batches", `class="goal"`, "The batches differ &lt;in&gt; something.",
		`data-label="Verdict"`, "goal: live acres at the end of 2027", `data-label="2025Q4"><data value="12">12.00</data>`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q", want)
		}
	}
	elements(t, page)
}

// For any history the page is well-formed, and the same each time.
func TestTrendPageOfAnyHistory(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		from := TrendSources{History: anyHistory(t).Draw(r, "history"), Programme: Programme{GoalYear: rapid.SampledFrom([]int{0, 1950, 2050}).Draw(r, "goal")}}
		page := trendPrinted(t, from)
		elements(t, page)
		if page != trendPrinted(t, from) {
			t.Error("not the same twice")
		}
	})
}
