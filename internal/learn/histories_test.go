package learn

import (
	"math"
	"testing"
	"time"

	"driftreach/geo"
	"driftreach/internal/estimate"
	"driftreach/internal/survey"
)

func on(text string) time.Time {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return t
}

// worked is a stand of 1 acre that was sprayed in May, had a tenth of its acres again in November,
// was sprayed then, and was clear in February and August.
func worked() history {
	return history{
		id: "a",
		sights: []sight{
			{day: on("2025-04-10"), found: true, live: 1, size: 1, counted: 4, status: survey.Untreated},
			{day: on("2025-05-20"), found: true, treated: 1, status: survey.Treated}, // too early to tell
			{day: on("2025-08-01"), found: true, other: 1, status: survey.StandingDead},
			{day: on("2025-11-01"), found: true, live: 0.1, other: 0.9, status: survey.Resprout},
			{day: on("2026-02-01")}, {day: on("2026-08-01")},
		},
		visits: []visit{
			{day: on("2025-05-10"), method: "foliar spray", crew: "a", acres: 1},
			{day: on("2025-11-05"), method: "foliar spray", crew: "b", acres: geo.Acres(math.NaN())},
		},
	}
}

// By hand: after the first day of work nothing is live, and a tenth at the last look before the
// next; after the second nothing. So the second day cleared it, not the first.
func TestWorkOnAStandByHand(t *testing.T) {
	h := worked()
	first, ok := h.judge(0, 30)
	if !ok || first.before != 1 || first.after != 0 || first.last != 0.1 || !first.watched || !first.regrown || first.status != "untreated" {
		t.Errorf("first: %v %+v", ok, first)
	}
	second, ok := h.judge(1, 30)
	if !ok || second.before != 0.1 || second.after != 0 || second.last != 0 || !second.watched || second.regrown || second.status != "resprout" {
		t.Errorf("second: %v %+v", ok, second)
	}
	if b, ok := h.cleared(30); !ok || b.After != 1 || b.By != 2 {
		t.Errorf("cleared: %v %+v", ok, b)
	}
	if _, hard := h.hard(30); hard {
		t.Error("a clear stand is hard")
	}
	got := treated([]history{h}, DefaultOptions())
	if got.Jobs != 2 || got.Groups[0].Before != 1.1 || math.Abs(got.Groups[0].Held.Value-1/1.1) > 1e-12 || got.Clear[0].Share.Value != 0 || got.Clear[1].Share.Value != 1 {
		t.Errorf("%+v", got)
	}

	h.visits[0].acres = 0.3 // only a part
	if _, ok := h.judge(0, 30); ok {
		t.Error("work on a part of the stand counts for the whole")
	}
}

// A stand sprayed three times and live after the last is hard; one that was live only before the
// third is not.
func TestHardStand(t *testing.T) {
	h := worked()
	h.visits = append(h.visits, visit{day: on("2026-03-01"), acres: 0.1})
	h.sights[5].live, h.sights[5].found = 0.1, true
	if hard, ok := h.hard(30); !ok || hard.Visits != 3 || hard.Acres != 0.1 {
		t.Errorf("%v %+v", ok, hard)
	}
	if b, ok := h.cleared(30); !ok || b.After != 3 || !math.IsInf(b.By, 1) {
		t.Errorf("cleared: %v %+v", ok, b)
	}
	h.visits[2].day = on("2026-07-20")
	if _, ok := h.hard(30); ok {
		t.Error("the last look tells nothing of work twelve days before it")
	}
}

// Acres that double in a year give a factor of 2, for any size of stand; a look after work does not
// count.
func TestGrowthByHand(t *testing.T) {
	var all []history
	for i, size := range []float64{0.01, 0.1, 1} {
		h := history{id: string(rune('a' + i)), zone: i > 0}
		for q := range 5 {
			h.sights = append(h.sights, sight{day: on("2024-01-01").AddDate(0, 0, int(float64(q)*365.25/4)), found: true, live: geo.Acres(size), size: geo.Acres(size * math.Exp2(float64(q)/4)), counted: i + 1, status: survey.Untreated})
		}
		h.sights = append(h.sights, sight{day: on("2026-01-01"), found: true, live: 9, size: 9, counted: i + 1, status: survey.Untreated})
		h.visits = []visit{{day: on("2025-06-01")}}
		all = append(all, h)
	}
	g := grown(all)
	if y := g.Groups[0].Yearly; g.Groups[0].Stands != 3 || math.Abs(y.Value-2) > 0.005 || y.High-y.Low > 0.02 {
		t.Errorf("%+v", g.Groups[0])
	}
	all[0].sights = all[0].sights[:2] // a quarter of a year
	if g := grown(all); g.Short != 1 || g.Groups[0].Stands != 2 {
		t.Errorf("%+v", g)
	}
}

func TestControlHasBoundsWhereAllFaredAlike(t *testing.T) {
	got := controlled([]estimate.Part{{Cluster: "a", Upper: 1, At: 1}, {Cluster: "b", Upper: 2, At: 2}, {Cluster: "c", Upper: 1, At: 1}})
	if got.Value != 1 || got.High != 1 || !(got.Low > 0.3 && got.Low < 0.6) {
		t.Errorf("%+v", got)
	}
}

// Ten hours in the first year, two in the second: a fifth, from the stands with two years.
func TestLabourByHand(t *testing.T) {
	var all []history
	for i := range 3 {
		h := worked()
		h.id = string(rune('a' + i))
		h.visits[0].hours, h.visits[1].hours = 8, 2
		h.visits = append(h.visits, visit{day: on("2026-06-01"), hours: 2})
		h.sights = append(h.sights, sight{day: on("2027-06-01")})
		all = append(all, h)
	}
	got := labour(all)
	if len(got) != 1 || got[0].Stands != 3 || math.Abs(got[0].Share.Value-0.2) > 1e-12 {
		t.Errorf("%+v", got)
	}
	all[0].visits[0].hours = geo.Hours(math.NaN())
	if got := labour(all); got[0].Stands != 2 {
		t.Errorf("%+v", got)
	}
}
