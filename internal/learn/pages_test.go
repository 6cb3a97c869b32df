package learn

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/estimate"
	"driftreach/internal/report"
	"driftreach/internal/survey"
)

// saidBy lists an answer's verdict, its texts, and the rows of its tables, cell by cell.
func saidBy(part report.AnswerPart) string {
	out := append([]string{part.Verdict}, part.Text...)
	for _, grid := range part.Tables {
		out = append(out, "["+grid.ID+"]")
		for _, line := range grid.Rows {
			var cells []string
			for _, c := range line.Cells {
				cells = append(cells, c.Text)
			}
			out = append(out, strings.Join(cells, " | "))
		}
	}
	return strings.Join(out, "\n")
}

func holdPart(t *testing.T, name string, part report.AnswerPart, want string) {
	t.Helper()
	if d := cmp.Diff(strings.Split(strings.TrimSpace(want), "\n"), strings.Split(saidBy(part), "\n")); d != "" {
		t.Errorf("%s: %s", name, d)
	}
	if len(part.Assumed) == 0 || part.Title == "" || part.ID == "" {
		t.Errorf("%s: says nothing of what it assumes: %+v", name, part)
	}
}

func share(value, low, high float64) estimate.Interval {
	return estimate.Interval{Value: value, Low: low, High: high}
}

const afterWork = "These figures show what was observed after work, not what work caused: no stands, drawn at random, were left untreated to compare with, and hard stands get more visits."

// TestWhatIsSaidOfWork: the answer about control work, by hand: enough days and crews, too few days,
// too few crews, and nothing at all. A group below the limit has its counts and no share.
func TestWhatIsSaidOfWork(t *testing.T) {
	day := func(month time.Month, d int) time.Time { return time.Date(2026, month, d, 0, 0, 0, 0, time.UTC) }
	a := &Answer{Options: DefaultOptions()}
	a.Options.Later = 45
	a.Treated = Treated{
		Jobs: 12, Stands: 7, Unjudged: 2,
		Groups: []Effect{
			{By: "all", Jobs: 12, Stands: 7, Clusters: 6, Before: 4.5, After: 0.9, Control: share(0.8, 0.7, 0.9), Held: share(0.6, 0.4, 0.75), Watched: 3, Regrown: share(1./3, 0.1, 0.7)},
			{By: "method", Of: "cut stump", Jobs: 9, Stands: 5, Clusters: 6, Before: 3.25, After: 0.0512, Control: share(0.9, 0.8, 1)},
			{By: "method", Of: "mowing", Jobs: 10, Stands: 2, Clusters: 4, Before: 1.25, After: 0.85},
			{By: "season", Of: "3", Jobs: 10, Stands: 2, Clusters: 5, Before: 1, After: 0, Control: share(1, 0.7, 1), Held: share(0.5, 0.2, 0.9)},
		},
		Clear: []ClearBy{{Visits: 1, Stands: 10, Share: share(0.25, 0.1, 0.4)}, {Visits: 2, Stands: 9, Share: share(0.5, 0.2, 0.8)}},
		Hard:  []HardStand{{StandID: "2025Q1-0003", Visits: 3, Last: day(5, 2), Seen: day(8, 9), Acres: 0.125}},
	}
	a.Labour = []Labour{{Year: 1, Stands: 10, Share: share(0.4, 0.3, 0.5)}, {Year: 2, Stands: 9, Share: share(0.2, 0.1, 0.3)}}
	holdPart(t, "work", a.treatedPart(), `
Observed, not caused: of the live acres before work 80 % (70 % to 90 %) were gone at the first look 45 days or more after it, and 60 % (40 % to 75 %) at the last look before the next work.
`+afterWork+`
After 3 days of work the first look found nothing live and somebody looked once more later; 33 % (10 % to 70 %) of these were live again.
2 days of work on a stand not counted: there was no look before, no look after that counts, or nothing live at the look before.
[effect]
all | 12 | 7 | 6 | 4.50 | 0.90 | 80 % (70 % to 90 %) | 60 % (40 % to 75 %)
method: cut stump | 9 | 5 | 6 | 3.25 | 0.0512 | too few to tell | too few to tell
method: mowing | 10 | 2 | 4 | 1.25 | 0.85 | too few to tell | too few to tell
season: 3 | 10 | 2 | 5 | 1.00 | 0 | 100 % (70 % to 100 %) | 50 % (20 % to 90 %)
[clear]
1 | 10 | 25 % (10 % to 40 %)
2 | 9 | too few to tell
[hard]
2025Q1-0003 | 3 | 2026-05-02 | 2026-08-09 | 0.13
[labour]
1 | 10 | 40 % (30 % to 50 %)
2 | 9 | too few to tell`)
	a.Treated.Jobs, a.Treated.Groups[0].Jobs, a.Treated.Unjudged, a.Treated.Groups[0].Watched = 9, 9, 1, 0
	a.Treated.Groups, a.Treated.Clear, a.Treated.Hard, a.Treated.Stands, a.Labour = a.Treated.Groups[:1], nil, nil, 0, nil
	holdPart(t, "too few days", a.treatedPart(), `
Too little data: 9 days of work on a stand have a look before and a look after; it takes 10 days of work on a stand, by crews on 5 days, each with a look before and one after.
`+afterWork+`
1 day of work on a stand not counted: there was no look before, no look after that counts, or nothing live at the look before.
[effect]
all | 9 | 7 | 6 | 4.50 | 0.90 | too few to tell | too few to tell`)
	a.Treated = Treated{}
	holdPart(t, "no work", a.treatedPart(), `
Too little data: 0 days of work on a stand have a look before and a look after; it takes 10 days of work on a stand, by crews on 5 days, each with a look before and one after.
`+afterWork)
}

// TestWhatIsSaidOfGrowth: the answer about growth, by hand: ten stands are enough, nine are not, of
// which one is in the singular.
func TestWhatIsSaidOfGrowth(t *testing.T) {
	a := &Answer{}
	a.Growth = Growth{Short: 1, Groups: []GrowthOf{
		{By: "all", Stands: 10, Years: 12.345, Yearly: share(1.25, 1.1, 1.4)}, {By: "size", Of: "below a tenth of an acre", Stands: 9, Years: 4, Yearly: share(1.5, 1.2, 2)},
		{By: "water", Of: "in the zone", Stands: 11, Years: 8.3, Yearly: share(0.8, 0.5, math.Inf(1))},
	}}
	holdPart(t, "growth", a.growthPart(), `
Untreated stands grew by 25 % (10 % to 40 %) a year in acres.
1 stand not counted: all looks lie within half a year, or nobody measured the patches.
[growth-table]
all | 10 | 12.3 | 25 % (10 % to 40 %)
below a tenth of an acre | 9 | 4.00 | too few to tell
in the zone | 11 | 8.30 | -20 % (-50 % or more)`)
	for n, want := range map[int]string{9: "9 stands were", 1: "1 stand was", 0: "0 stands were"} {
		a.Growth = Growth{Groups: []GrowthOf{{By: "all", Stands: n}}}
		if got := a.growthPart().Verdict; got != "Too little data: "+want+" measured over half a year or more and not treated. It takes about 10." {
			t.Errorf("%d stands: %s", n, got)
		}
	}
	a.Growth = Growth{}
	holdPart(t, "no stand", a.growthPart(), "Too little data: 0 stands were measured over half a year or more and not treated. It takes about 10.")
}

// TestWhatIsSaidOfStandsThatAreGone: the answer about what looks find, by hand: ten places are enough,
// nine are not; then nobody knows what clear looks mean.
func TestWhatIsSaidOfStandsThatAreGone(t *testing.T) {
	a := &Answer{Options: DefaultOptions()}
	a.Options.Before, a.Options.Certainty = 0.3, 0.95
	a.Found = Found{
		Used: 12, Looks: 3, Safe: 5, Aside: map[string]int{"no day": 1, "another season": 2},
		Groups: []FindOf{{By: "all", Places: 12, Find: share(0.7, 0.5, 0.85)}, {By: "size", Of: "seedling", Places: 9, Find: share(0.4, 0.2, 0.7)}, {By: "effort", Of: "on foot", Places: 10, Find: share(0.9, 0.6, 1)}},
		Clear:  []ClearStand{{StandID: "a", Looks: 2, Absent: share(0.9, 0.8, 0.95)}, {StandID: "b", Looks: 1, Absent: share(0.75, 0.6, 0.9)}, {StandID: "c", Looks: 2, Absent: share(0.9, 0.8, 0.95)}},
	}
	const note = "No row has a plant that both looks missed and nobody found later. The estimate allows for such plants: the places were drawn at random, and each plant of a kind is taken to be as easy to miss as any other. Plants that no look could find are not in it."
	const aside = `Second looks: 2 rows not counted: another season.
Second looks: 1 row not counted: no day.`
	holdPart(t, "gone", a.foundPart(), `
One look finds 70 % (50 % to 85 %) of what is there. 3 clear looks in a row make it at least 95 % likely that nothing is left, and 5 if a look finds as little as the lower bound.
`+note+"\n"+aside+`
[find]
all | 12 | 70 % (50 % to 85 %)
seedling | 9 | too few to tell
on foot | 10 | 90 % (60 % to 100 %)
[absent]
1 | 1 | 75 % (60 % to 90 %)
2 | 2 | 90 % (80 % to 95 %)`)
	a.Found.Looks, a.Found.Safe, a.Found.Aside = 1, 1, nil
	if got := a.foundPart().Verdict; got != "One look finds 70 % (50 % to 85 %) of what is there. 1 clear look makes it at least 95 % likely that nothing is left." {
		t.Error(got)
	}
	a.Found.Looks = 0
	if got := a.foundPart().Verdict; got != "One look finds 70 % (50 % to 85 %) of what is there. " {
		t.Error(got)
	}
	a.Found.Used, a.Found.Groups[0].Places = 9, 9
	got := a.foundPart()
	if !strings.HasPrefix(got.Verdict, "Too little data: there are 9 places that two looks") || !strings.Contains(got.Verdict, "It takes 10 places for any answer, and about 60 for") {
		t.Error(got.Verdict)
	}
	if all := saidBy(got); !strings.Contains(all, "all | 9 | too few to tell") || !strings.Contains(all, "1 | 1 | not known\n2 | 2 | not known") {
		t.Error(all)
	}
	a.Found = Found{Used: 1}
	if got := a.foundPart().Verdict; !strings.HasPrefix(got, "Too little data: there is 1 place that two looks") {
		t.Error(got)
	}
	a.Found = Found{}
	if got := a.foundPart(); !strings.HasPrefix(got.Verdict, "Too little data: there are 0 places") || len(got.Tables) != 0 {
		t.Error(saidBy(got))
	}
}

// TestHeadOfThePage: how many batches, from when to when; one batch is in the singular and names its
// quarter once. Every part of the answer is there, in its order.
func TestHeadOfThePage(t *testing.T) {
	first, last := survey.Quarter{Year: 2025, Number: 2}, survey.Quarter{Year: 2026, Number: 3}
	for _, c := range []struct {
		quarters    []survey.Quarter
		title, days string
	}{
		{[]survey.Quarter{first}, "What the history of 2025Q2 says", "1 batch, 2025Q2"},
		{[]survey.Quarter{first, {Year: 2025, Number: 3}, last}, "What the history of 2025Q2 to 2026Q3 says", "3 batches, 2025Q2 to 2026Q3"},
	} {
		a := supported()
		a.Quarters = c.quarters
		p := a.Page("1.2")
		var parts []string
		for _, part := range p.Parts {
			parts = append(parts, part.ID)
		}
		if p.Title != c.title || p.Days != c.days || p.Version != "1.2" || len(p.Cautions) != 3 || strings.Join(parts, " ") != "risk distance treatment gone growth" {
			t.Errorf("%q, %q, parts %q, %d cautions", p.Title, p.Days, parts, len(p.Cautions))
		}
	}
}
