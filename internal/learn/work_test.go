package learn

import (
	"fmt"
	"math"
	"testing"
	"time"

	"driftreach/geo"
	"driftreach/internal/estimate"
	"driftreach/internal/survey"
)

// stood is a look that found some acres live.
func stood(day string, live float64) sight {
	return sight{day: on(day), found: true, live: geo.Acres(live), status: survey.Untreated}
}

// Every day of work here is judged by hand: what was live before, what at the first look that shows
// the effect, and what at the last before the next work.
func TestJudgeByHand(t *testing.T) {
	nan := math.NaN()
	work := func(days ...string) (out []visit) {
		for _, d := range days {
			out = append(out, visit{day: on(d), acres: geo.Acres(nan)})
		}
		return out
	}
	treatedOn := func(day string, live, treated float64) sight {
		s := stood(day, live)
		s.treated = geo.Acres(treated)
		return s
	}
	for _, tt := range []struct {
		name             string
		sights           []sight
		visits           []visit
		want             judged
		ok               bool
		watched, regrown bool
	}{
		{name: "the last of two looks before, the first and last after", ok: true, visits: work("2026-03-01"),
			sights: []sight{stood("2026-01-01", 9), stood("2026-02-01", 4), stood("2026-04-15", 1), stood("2026-07-01", 2)}, want: judged{before: 4, after: 1, last: 2}},
		{name: "a look on the day itself is before it", ok: true, visits: work("2026-03-01"), sights: []sight{stood("2026-03-01", 4), stood("2026-06-01", 1)}, want: judged{before: 4, after: 1, last: 1}},
		{name: "no look before", visits: work("2026-03-01"), sights: []sight{stood("2026-03-02", 4), stood("2026-06-01", 1)}},
		{name: "nothing live before", visits: work("2026-03-01"), sights: []sight{stood("2026-02-01", 0), stood("2026-06-01", 1)}},
		{name: "no look after", visits: work("2026-03-01"), sights: []sight{stood("2026-02-01", 4)}},
		{name: "29 days after tells nothing", visits: work("2026-03-01"), sights: []sight{stood("2026-02-01", 4), stood("2026-03-30", 0)}},
		{name: "30 days after does", ok: true, visits: work("2026-03-01"), sights: []sight{stood("2026-02-01", 4), stood("2026-03-31", 3)}, want: judged{before: 4, after: 3, last: 3}},
		{name: "the next work ends it", ok: true, visits: work("2026-03-01", "2026-06-01"), sights: []sight{stood("2026-02-01", 4), stood("2026-05-01", 1), stood("2026-06-01", 2), stood("2026-06-02", 0)},
			want: judged{before: 4, after: 1, last: 2}},
		{name: "clear, and looked at again", ok: true, watched: true, visits: work("2026-03-01"), sights: []sight{stood("2026-02-01", 4), stood("2026-05-01", 0), stood("2026-09-01", 0)}, want: judged{before: 4}},
		{name: "clear, and live again", ok: true, watched: true, regrown: true, visits: work("2026-03-01"),
			sights: []sight{stood("2026-02-01", 4), stood("2026-05-01", 0), stood("2026-09-01", 3), stood("2026-12-01", 0)}, want: judged{before: 4}},
		{name: "treated in the week of the look before, which found it live", ok: true, visits: work("2026-03-07"), sights: []sight{treatedOn("2026-03-01", 1, 3), stood("2026-05-01", 2)},
			want: judged{before: 4, after: 2, last: 2}},
		{name: "treated earlier than in the week before", ok: true, visits: work("2026-03-08"), sights: []sight{treatedOn("2026-03-01", 1, 3), stood("2026-05-01", 2)}, want: judged{before: 1, after: 2, last: 2}},
		{name: "the next work came before a look of its week", ok: true, watched: true, regrown: true, visits: work("2026-03-01", "2026-06-05"),
			sights: []sight{stood("2026-02-01", 4), stood("2026-05-01", 0), treatedOn("2026-06-01", 0, 1)}, want: judged{before: 4}},
		{name: "and that alone tells nothing", visits: work("2026-03-01", "2026-06-05"), sights: []sight{stood("2026-02-01", 4), treatedOn("2026-06-01", 0, 1)}},
		{name: "work on three quarters of it", ok: true, visits: []visit{{day: on("2026-03-01"), acres: 3}}, sights: []sight{stood("2026-02-01", 4), stood("2026-05-01", 1)}, want: judged{before: 4, after: 1, last: 1}},
		{name: "work on less", visits: []visit{{day: on("2026-03-01"), acres: 2.99}}, sights: []sight{stood("2026-02-01", 4), stood("2026-05-01", 1)}},
	} {
		h := history{id: "s", sights: tt.sights, visits: tt.visits}
		got, ok := h.judge(0, 30)
		if ok != tt.ok || ok && (got.before != tt.want.before || got.after != tt.want.after || got.last != tt.want.last || got.watched != tt.watched || got.regrown != tt.regrown || got.stand != "s") {
			t.Errorf("%s: %v, %+v", tt.name, ok, got)
		}
	}
	mixed := treatedOn("2026-02-01", 2, 3) // most of it was treated then, so that the look does not tell its status
	h := history{sights: []sight{mixed, stood("2026-05-01", 0)}, visits: work("2026-03-01")}
	if got, _ := h.judge(0, 30); got.status != "not known" {
		t.Errorf("status %q", got.status)
	}
}

// When a stand was cleared, by hand: after more days of work than had passed at the last live look,
// and no more than at the first clear one.
func TestClearedByHand(t *testing.T) {
	inf := math.Inf(1)
	three := []visit{{day: on("2026-03-01")}, {day: on("2026-06-01")}, {day: on("2026-09-01")}}
	for _, tt := range []struct {
		name   string
		sights []sight
		want   estimate.Between
		ok     bool
	}{
		{"clear after one", []sight{stood("2026-02-01", 1), stood("2026-05-01", 0)}, estimate.Between{After: 0, By: 1}, true},
		{"between the first and the third", []sight{stood("2026-05-01", 1), stood("2026-11-01", 0)}, estimate.Between{After: 1, By: 3}, true},
		{"live after all", []sight{stood("2026-11-01", 1)}, estimate.Between{After: 3, By: inf}, true},
		{"clear once, and live again", []sight{stood("2026-05-01", 0), stood("2026-08-01", 1), stood("2026-11-01", 0)}, estimate.Between{After: 2, By: 3}, true},
		{"clear twice", []sight{stood("2026-05-01", 0), stood("2026-11-01", 0)}, estimate.Between{After: 0, By: 1}, true},
		{"too soon after work to tell", []sight{stood("2026-02-01", 1), stood("2026-03-30", 0)}, estimate.Between{}, false},
		{"live before work alone", []sight{stood("2026-02-01", 1)}, estimate.Between{}, false},
		{"clear before work", []sight{stood("2026-02-01", 0)}, estimate.Between{}, false},
		{"on the day of work, before it", []sight{stood("2026-03-01", 1), stood("2026-05-01", 0)}, estimate.Between{After: 0, By: 1}, true},
		{"treated on the day of the look", []sight{stood("2026-05-01", 1), {day: on("2026-06-01"), treated: 1}}, estimate.Between{After: 1, By: inf}, true},
		{"treated in the week after the look", []sight{stood("2026-05-01", 1), {day: on("2026-05-26"), treated: 1}}, estimate.Between{After: 1, By: inf}, true},
		{"treated a week before work", []sight{stood("2026-02-01", 1), {day: on("2026-05-25"), treated: 1}}, estimate.Between{After: 0, By: 1}, true},
		{"no looks", nil, estimate.Between{}, false},
	} {
		h := history{sights: tt.sights, visits: three}
		got, ok := h.cleared(30)
		if ok != tt.ok || ok && (got.After != tt.want.After || got.By != tt.want.By || got.Weight != 1) {
			t.Errorf("%s: %v, %+v", tt.name, ok, got)
		}
	}
	if _, hard := (&history{visits: three}).hard(30); hard {
		t.Error("a stand nobody looked at is hard")
	}
	for day, want := range map[string]bool{"2026-10-01": true, "2026-09-30": false} { // 30 days after the third and 29
		h := history{id: "h", sights: []sight{stood(day, 2)}, visits: three}
		if got, hard := h.hard(30); hard != want || hard && (got.Visits != 3 || got.Acres != 2 || !got.Last.Equal(on("2026-09-01")) || !got.Seen.Equal(on(day))) {
			t.Errorf("live on %s: %v, %+v", day, hard, got)
		}
	}
}

// By hand: of 4, 2 and 4 acres 1, 2 and 0 are left at first, and 1, 1 and 2 at last: 7 of 10 gone and 6
// of 10. Of two that were clear and watched one grew again. Groups follow in the order of their names.
func TestEffectsByHand(t *testing.T) {
	job := func(stand, crew, method, day string, before, after, last float64) judged {
		return judged{stand: stand, visit: visit{day: on(day), crew: crew, method: method}, status: "untreated", before: geo.Acres(before), after: geo.Acres(after), last: geo.Acres(last)}
	}
	jobs := []judged{job("a", "x", "spray", "2026-02-01", 4, 1, 1), job("a", "y", "", "2026-05-01", 2, 2, 1), job("b", "x", "cut", "2026-02-01", 4, 0, 2), job("b", "x", "spray", "2026-12-31", 0, 0, 0)}
	jobs[2].watched, jobs[2].regrown, jobs[3].watched = true, true, true
	all := groups(jobs)
	var names []string
	for _, e := range all {
		names = append(names, e.By+":"+e.Of)
	}
	want := []string{"all:", "method:cut", "method:not known", "method:spray", "formulation class:not known", "season:April to June", "season:January to March", "season:October to December", "status before:untreated"}
	if fmt.Sprint(names) != fmt.Sprint(want) {
		t.Errorf("groups %q, want %q", names, want)
	}
	e := all[0]
	if e.Jobs != 4 || e.Stands != 2 || e.Clusters != 3 || e.Before != 10 || e.After != 3 || e.Last != 4 || e.Watched != 2 || e.Regrown.Value != 0.5 {
		t.Errorf("%+v", e)
	}
	if math.Abs(e.Control.Value-0.7) > 1e-12 || math.Abs(e.Held.Value-0.6) > 1e-12 {
		t.Errorf("gone %g and %g", e.Control.Value, e.Held.Value)
	}
	if s := all[3]; s.Of != "spray" || s.Jobs != 2 || s.Before != 4 || s.Control.Value != 0.75 {
		t.Errorf("%+v", s)
	}
	for day, want := range map[string]string{"2026-03-31": "January to March", "2026-04-01": "April to June", "2026-07-01": "July to September", "2026-09-30": "July to September", "2026-10-01": "October to December"} {
		if got := season(on(day)); got != want {
			t.Errorf("%s is in %s", day, got)
		}
	}
	for n, told := range map[[2]int]bool{{10, 5}: true, {9, 5}: false, {10, 4}: false} {
		if e := (Effect{Jobs: n[0], Clusters: n[1]}); e.Told() != told {
			t.Errorf("%v: %v", n, e.Told())
		}
	}
}

// Bounds by hand: where stands have more than before, or five crews left something, they are those of
// a ratio, at most all; else those of a share of the effective number of stands. Four of 1 and one of 4
// acres are (8^2)/(4+16) = 3.2 of them.
func TestControlledByHand(t *testing.T) {
	part := func(cluster string, gone, before float64) estimate.Part {
		return estimate.Part{Cluster: cluster, Upper: gone, At: before}
	}
	five := []estimate.Part{part("a", 0.9, 1), part("b", 0.8, 1), part("c", 0.9, 1), part("d", 0.7, 1), part("e", 3.9, 4)}
	ratio := estimate.Ratio(five)
	if got := controlled(five); got.Value != ratio.Value || got.Low != ratio.Low || got.High != math.Min(1, ratio.High) {
		t.Errorf("%+v, want the ratio's %+v", got, ratio)
	}
	more := []estimate.Part{part("a", -2, 1), part("b", 1, 1), part("c", 1, 1)}
	if got, ratio := controlled(more), estimate.Ratio(more); got.Value != 0 || got.Low != ratio.Low || got.High != math.Min(1, ratio.High) {
		t.Errorf("%+v, want the ratio's %+v", got, ratio)
	}
	five[0].Upper = 1 // four crews left something
	weights := 0.0
	for _, p := range weighed(five) {
		weights += p.At
	}
	if math.Abs(weights-3.2) > 1e-12 {
		t.Errorf("%g stands, want 3.2", weights)
	}
	if got, share := controlled(five), estimate.Share(weighed(five)); got.Low != share.Low || got.High != share.High || math.Abs(got.Value-7.3/8) > 1e-12 {
		t.Errorf("%+v, want the share's %+v", got, share)
	}
}

// Stands with work by hand: of three one is clear after a day of work and one after two; one was live
// after four and is hard. By one day a third is clear, by two days two.
func TestTreatedByHand(t *testing.T) {
	days := func(n int) (out []visit) {
		for k := range n {
			out = append(out, visit{day: on("2024-02-01").AddDate(0, 6*k, 0), crew: fmt.Sprint("crew ", n), acres: geo.Acres(math.NaN())})
		}
		return out
	}
	after := func(v visit, live float64) sight {
		return sight{day: v.day.AddDate(0, 3, 0), found: live > 0, live: geo.Acres(live), status: survey.Untreated}
	}
	var all []history
	for i, n := range []int{1, 2, 4} {
		h := history{id: string(rune('a' + i)), visits: days(n), sights: []sight{stood("2024-01-01", 1)}}
		for k, v := range h.visits {
			left := 0.5
			if k == n-1 && n < 4 {
				left = 0
			}
			h.sights = append(h.sights, after(v, left))
		}
		all = append(all, h)
	}
	all = append(all, history{id: "z", sights: []sight{stood("2024-01-01", 1)}}) // never worked on
	got := treated(all, DefaultOptions())
	if got.Stands != 3 || got.Jobs != 7 || got.Unjudged != 0 || len(got.Hard) != 1 || got.Hard[0].StandID != "c" || got.Hard[0].Visits != 4 {
		t.Errorf("%+v", got)
	}
	for i, want := range []struct {
		visits, stands int
		share          float64
	}{{1, 3, 1.0 / 3}, {2, 3, 2.0 / 3}, {4, 3, 2.0 / 3}} {
		if c := got.Clear[i]; c.Visits != want.visits || c.Stands != want.stands || math.Abs(c.Share.Value-want.share) > 1e-6 {
			t.Errorf("%+v, want %+v", c, want)
		}
	}
	all[0].sights = all[0].sights[:1]
	if got := treated(all, DefaultOptions()); got.Unjudged != 1 || got.Jobs != 6 || got.Clear[0].Stands != 2 {
		t.Errorf("without a look after: %+v", got)
	}
}

// Labour by the calendar: a year runs from the first day to the day before its return. Two years must
// be over before the last look of all.
func TestLabourByTheCalendar(t *testing.T) {
	h := history{id: "a", visits: []visit{
		{day: on("2024-02-29"), hours: 10, crew: "x"}, {day: on("2025-02-28"), hours: 6}, {day: on("2025-03-01"), hours: 4}, {day: on("2026-02-28"), hours: 1}, {day: on("2026-03-01"), hours: 2},
	}}
	for year, want := range []float64{16, 5, 2, 0} { // a year from 29 February is over on 1 March
		if got, told := h.hours(year); float64(got) != want || !told {
			t.Errorf("year %d: %g hours, %v, want %g", year, got, told, want)
		}
	}
	h.visits[4].hours = geo.Hours(math.NaN())
	if _, told := h.hours(2); told {
		t.Error("hours without a day's are told")
	}
	for last, years := range map[string]int{"2026-02-28": 0, "2026-03-01": 1, "2027-03-01": 1} {
		h.sights = []sight{{day: on(last)}, {day: on("2024-01-01")}}
		got := labour([]history{h, {id: "b"}})
		if len(got) != years || years > 0 && (got[0].Year != 1 || got[0].Stands != 1 || got[0].Share.Value != 5.0/16 || got[0].Share.Low != 0) {
			t.Errorf("last look %s: %+v", last, got)
		}
	}
	h.visits[0].hours, h.visits[1].hours, h.visits[4].hours = 0, 0, 2
	if got := labour([]history{h}); got != nil {
		t.Errorf("no hours in the first year: %+v", got)
	}
	long := history{id: "l", visits: []visit{{day: on("2000-01-01"), hours: 1}}, sights: []sight{{day: on("2020-01-01")}}}
	if got := labour([]history{long}); len(got) != mostYears || got[mostYears-1].Year != 10 {
		t.Errorf("%d years, want ten", len(got))
	}
	if got := years(on("2024-01-01"), on("2024-01-01").Add(24*time.Hour)); math.Abs(got*365.25-1) > 1e-12 {
		t.Errorf("a day is %g years", got)
	}
}

// Growth by hand: e in a year and e squared in another, weighted by patches and by the squared years:
// two patches over a year (0.5 x 1 x 2 = 1 of upper, 0.5 x 2 = 1 of lower) and one over two years (2 x 2
// and 2): 5 of 3.
func TestGrowthOfTwoStandsByHand(t *testing.T) {
	at := func(years, size float64, counted, guessed int) sight {
		return sight{day: on("2020-01-01").Add(time.Duration(years * 365.25 * 24 * float64(time.Hour))), found: true, live: geo.Acres(size), size: geo.Acres(size), counted: counted, guessed: guessed, status: survey.Untreated}
	}
	e := math.E
	a := history{id: "a", zone: true, sights: []sight{at(0, 0.04, 2, 0), at(1, 0.04*e, 9, 0)}}
	b := history{id: "b", sights: []sight{at(0, 0.5, 1, 0), at(2, 0.5*e*e*e*e, 1, 0)}}
	g := grown([]history{a, b})
	if y := g.Groups[0].Yearly.Value; math.Abs(math.Log(y)-5.0/3) > 1e-9 || g.Groups[0].Years != 3 || g.Groups[0].Stands != 2 {
		t.Errorf("%+v, log %g", g.Groups[0], math.Log(y))
	}
	var names []string
	for _, of := range g.Groups {
		names = append(names, fmt.Sprintf("%s %s %d", of.By, of.Of, of.Stands))
	}
	if want := []string{"all  2", "size below 0.05 acres 1", "size 0.5 acres or more 1", "water in the aquatic zone 1", "water off the water 1"}; fmt.Sprint(names) != fmt.Sprint(want) {
		t.Errorf("groups %q", names)
	}

	for name, tt := range map[string]struct {
		sights []sight
		visits []visit
		want   int
	}{
		"all":                             {[]sight{at(0, 1, 5, 0), at(1, 1, 5, 0), at(2, 1, 5, 0)}, nil, 3},
		"a fifth not measured":            {[]sight{at(0, 1, 4, 1), at(1, 1, 4, 1)}, nil, 2},
		"more than a fifth":               {[]sight{at(0, 1, 3, 1), at(1, 1, 3, 1)}, nil, 0},
		"not as many as at first":         {[]sight{at(0, 1, 9, 1), at(1, 1, 9, 0), at(2, 1, 9, 1)}, nil, 2},
		"nothing measured":                {[]sight{at(0, 0, 5, 0), at(1, 1, 5, 0)}, nil, 1},
		"worked on before the second":     {[]sight{at(0, 1, 5, 0), at(1, 1, 5, 0)}, []visit{{day: on("2020-06-01")}}, 1},
		"worked on on the day of a look":  {[]sight{at(0, 1, 5, 0), at(1, 1, 5, 0)}, []visit{{day: at(1, 1, 5, 0).day}}, 2},
		"not found, and seen again later": {[]sight{at(0, 1, 5, 0), {day: on("2020-06-01")}, at(1, 1, 5, 0)}, nil, 1},
	} {
		h := history{sights: tt.sights, visits: tt.visits}
		if got := len(h.untouched()); got != tt.want {
			t.Errorf("%s: %d looks, want %d", name, got, tt.want)
		}
	}
	for _, change := range []func(s *sight){func(s *sight) { s.treated = 0.1 }, func(s *sight) { s.other = 0.1 }, func(s *sight) { s.status = survey.Resprout }} {
		h := history{sights: []sight{at(0, 1, 5, 0), at(1, 1, 5, 0)}}
		if change(&h.sights[1]); len(h.untouched()) != 1 {
			t.Errorf("%+v counts as untouched", h.sights[1])
		}
	}
	if g := grown([]history{{id: "one", sights: []sight{at(0, 1, 5, 0)}}}); g.Short != 0 || g.Groups != nil {
		t.Errorf("one look: %+v", g)
	}
	half := history{id: "c", sights: []sight{at(0, 1, 5, 0), at(0.499, 1, 5, 0)}}
	if g := grown([]history{half}); g.Short != 1 || len(g.Groups) != 0 {
		t.Errorf("less than half a year: %+v", g)
	}
	half.sights[1] = at(0.501, 1, 5, 0)
	if g := grown([]history{half}); g.Short != 0 || len(g.Groups) != 3 {
		t.Errorf("more than half a year: %+v", g)
	}
}
