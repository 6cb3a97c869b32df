package plan

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/survey"
)

func day(year, month, day int) time.Time {
	return time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
}

// From the calendar: the plan's first quarter after 2027Q3 is October to December; a leap year's
// first quarter ends on 31 March like any other.
func TestQuartersByTheCalendar(t *testing.T) {
	p := planner{quarters: []survey.Quarter{{Year: 2027, Number: 4}}, s: Settings{Quarters: 3, Labour: []geo.Share{0.5, 0.25}}}
	for q, want := range []time.Time{day(2027, 12, 31), day(2028, 3, 31), day(2028, 6, 30), day(2028, 9, 30), day(2028, 12, 31), day(2029, 3, 31)} {
		if got := p.end(q); !got.Equal(want) {
			t.Errorf("quarter %d ends on %s, want %s", q, got.Format(time.DateOnly), want.Format(time.DateOnly))
		}
	}
	if got := p.horizon(); got != 3+4*3 {
		t.Errorf("follow-up is counted for %d quarters, want 3 planned and three years", got)
	}
	for year, want := range map[int]geo.Share{-1: 0, 0: 0, 1: 0.5, 2: 0.25, 3: 0} {
		if got := p.labour(year); got != want {
			t.Errorf("year %d has the share %g, want %g", year, got, want)
		}
	}
}

// A visit is due in the quarter of its day; overdue in the first; in no planned one at the end of what
// is counted. The first visit at a site in a quarter has its set-up of 7 and acres cost 2 times the
// stand's factor.
func TestDueQuartersByTheCalendar(t *testing.T) {
	due := func(days ...time.Time) (out []Due) {
		for k, d := range days {
			out = append(out, Due{Day: d, Year: k + 1, Acres: 10, Why: "w"})
		}
		return out
	}
	p := planner{quarters: []survey.Quarter{{Year: 2027, Number: 4}}, s: Settings{Quarters: 1, SetUp: 7, PerAcre: 2, Labour: []geo.Share{1}}, site: &Site{Stands: []Stand{
		{Factor: 1, Place: 3, Due: due(day(2020, 1, 1), day(2027, 12, 31), day(2028, 1, 1), day(2028, 3, 31), day(2028, 4, 1))},
		{Factor: 1.5, Place: 3, Due: due(day(2027, 10, 1), day(2099, 1, 1))},
		{Factor: 1, Place: 4, Due: due(day(2027, 10, 1))},
	}}}
	p.listDue()
	type told struct {
		stand int32
		from  int
		base  Cost
	}
	var got []told
	for _, task := range p.tasks {
		got = append(got, told{task.stand, task.from, task.base})
	}
	want := []told{{0, 0, 27}, {0, 0, 20}, {0, 1, 27}, {0, 1, 20}, {0, 2, 27}, {1, 0, 30}, {1, 9, 37}, {2, 0, 27}}
	if diff := cmp.Diff(want, got, cmp.AllowUnexported(told{})); diff != "" {
		t.Errorf("visits (-want +got):\n%s", diff)
	}
}

// By hand, with 100 a quarter and shares of a half and a tenth: nothing due leaves all 100. Visits of
// 160 in quarter 4 (80 of its budget) leave 20, enough for the half of 40. Visits in quarter 8 count
// their own year there: of 950 in its first year 475 exceed the budget, and nothing is left.
func TestFreeByHand(t *testing.T) {
	for _, tt := range []struct {
		name  string
		q     int
		tasks []task
		want  Cost
	}{
		{"nothing due", 0, nil, 100},
		{"the year after", 0, []task{{from: 4, year: 1, base: 160}}, 40},
		{"and the year after that, by the next share", 0, []task{{from: 4, year: 1, base: 160}, {from: 4, year: 2, base: 150}}, 10},
		{"its second year comes four quarters later", 0, []task{{from: 4, year: 1, base: 180}, {from: 8, year: 1, base: 150}}, 20},
		{"a tenth in quarter 8", 0, []task{{from: 8, year: 1, base: 190}}, 50},
		{"more than all", 0, []task{{from: 8, year: 1, base: 950}}, 0},
		{"in other quarters of the year", 0, []task{{from: 3, year: 1, base: 190}, {from: 5, year: 1, base: 190}, {from: 6, year: 2, base: 900}}, 100},
		{"put off to the next quarter", 3, []task{{from: 1, year: 1, base: 160}}, 100},
		{"due now, so that it is made in the next quarter at the soonest", 3, []task{{from: 3, year: 1, base: 900}}, 100},
		{"seen from a later quarter", 1, []task{{from: 5, year: 1, base: 160}}, 40},
		{"past the last year", 0, []task{{from: 4, year: 3, base: 1e9}}, 100},
	} {
		p := planner{s: Settings{Budget: 100, Labour: []geo.Share{0.5, 0.1}}, tasks: tt.tasks}
		if got := p.free(tt.q, 100); math.Abs(float64(got-tt.want)) > 1e-9 {
			t.Errorf("%s: %g, want %g", tt.name, got, tt.want)
		}
	}
	p := planner{s: Settings{Budget: 100, Labour: []geo.Share{0, 0.1}}, tasks: []task{{from: 4, year: 2, base: 1000}}}
	if got := p.free(0, 70); got != 70 {
		t.Errorf("a year without labour leaves %g of 70", got)
	}
	if got := p.free(0, -3); got != 0 {
		t.Errorf("%g of less than nothing", got)
	}
}

// By hand, with 10 a quarter: visits go by their day, then by stand, and one that does not fit is put
// off while a later one that fits is not. What cannot be visited now is put off too.
func TestFollowUpOrderByHand(t *testing.T) {
	due := func(d time.Time, year int, acres geo.Acres) Due {
		return Due{Day: d, Year: year, Acres: acres, At: orb.Point{float64(acres), 0}, Grows: drift.AmountKm(acres / 10), Why: "treated"}
	}
	s := budget(10)
	s.Quarters, s.Labour, s.Efficacy = 2, []geo.Share{1, 0.5}, 0.5
	p := made(t, s,
		Stand{Factor: 1, Place: 4, Due: []Due{due(day(2026, 11, 1), 1, 4)}},
		Stand{Factor: 1, Due: []Due{due(day(2026, 10, 1), 2, 8)}},
		Stand{Factor: 1, Due: []Due{due(day(2026, 10, 1), 1, 3), due(day(2026, 12, 1), 2, 1)}},
		Stand{Factor: 1, Unseen: 99, Windows: []Window{{Why: "closed"}}, Due: []Due{due(day(2026, 9, 1), 1, 1)}})
	// 8/2 + 3 are 7; 4 more do not fit; half of 1 does
	want := []string{"2026Q4 1: 1 follow_up 1/1 4", "2026Q4 2: 2 follow_up 1/1 3", "2026Q4 3: 2 follow_up 1/1 0.5", "2027Q1 1: 3 follow_up 1/1 1", "2027Q1 2: 0 follow_up 1/1 4"}
	if diff := cmp.Diff(want, told(p)); diff != "" {
		t.Errorf("rows (-want +got):\n%s", diff)
	}
	if q := p.Quarters[0]; q.PutOff != 2 || q.FollowUp != 7.5 || q.First != 0 || q.Free != 0.5*5 {
		t.Errorf("%+v, want two put off, 7.5 spent, and half of 5 for a second year of 7.5 less", q)
	}
	// half of the regrowth, for two quarters
	wantRow := Row{Stand: 1, Kind: FollowUp, Quarter: survey.Quarter{Year: 2026, Number: 4}, Place: 1, Block: 1, Blocks: 1, At: orb.Point{8, 0}, From: day(2026, 10, 1),
		To: day(2026, 12, 31), Site: 1, Acres: 8, Cost: 4, Running: 4, Exposure: 0.8, Due: day(2026, 10, 1), Year: 2, Draws: -1, Why: "treated"}
	if diff := cmp.Diff(wantRow, p.Rows[0]); diff != "" {
		t.Errorf("first row (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]int32{4, 0, 1, 3}, p.RowOf); diff != "" {
		t.Errorf("first row of each stand (-want +got):\n%s", diff)
	}
}

// What a plan treats is followed up in the same quarter of the coming years, until the shares of
// labour end. By hand: 8 acres, then a half and a quarter of them.
func TestFollowUpOfThePlan(t *testing.T) {
	s := budget(8)
	s.Quarters, s.Labour = 14, []geo.Share{0.5, 0.25}
	p := made(t, s, waits(1, 8, 2), Stand{Order: 2, Factor: 1})
	want := []string{"2026Q4 1: 0 first_treatment 1/1 8", "2027Q4 1: 0 follow_up 1/1 4", "2028Q4 1: 0 follow_up 1/1 2"}
	if diff := cmp.Diff(want, told(p)); diff != "" {
		t.Errorf("rows (-want +got):\n%s", diff)
	}
	second := p.Rows[2]
	if second.Year != 2 || !second.Due.IsZero() || second.Exposure != 0 || second.Why != "year 2 after its first treatment: look again, treat what grows" {
		t.Errorf("%+v", second)
	}
	if diff := cmp.Diff([]int32{0, -1}, p.RowOf); diff != "" {
		t.Errorf("first row of each stand (-want +got):\n%s", diff)
	}
	s.Labour = nil
	if n := len(made(t, s, waits(1, 8, 2)).Rows); n != 1 {
		t.Errorf("%d rows without any follow-up", n)
	}
	// a visit known beyond the last share costs nothing, and is made once
	s.Labour = []geo.Share{0.5}
	p = made(t, s, Stand{Factor: 1, Due: []Due{{Day: day(2026, 10, 1), Year: 2, Acres: 3}}})
	if diff := cmp.Diff([]string{"2026Q4 1: 0 follow_up 1/1 0"}, told(p)); diff != "" {
		t.Errorf("rows (-want +got):\n%s", diff)
	}
}

// From the calendar: a stand may be treated on the days of the quarter, or of its window in it. One
// that was not seen for four quarters needs a look in the first quarter alone.
func TestWindowsByTheCalendar(t *testing.T) {
	quarter := survey.Quarter{Year: 2028, Number: 1}
	s := Stand{Unseen: 4, Seen: "2027Q1", Windows: []Window{{From: day(2028, 2, 29)}, {To: day(2028, 3, 1)}, {Why: "closed"}}}
	for _, tt := range []struct {
		q, look int
		want    Window
	}{
		{0, 5, Window{From: day(2028, 2, 29), To: day(2028, 3, 31)}},
		{0, 4, Window{From: day(2028, 2, 29), To: day(2028, 3, 31), Why: "not looked at since 2027Q1: look at it before it is planned"}},
		{1, 4, Window{From: day(2028, 1, 1), To: day(2028, 3, 1)}},
		{2, 4, Window{From: day(2028, 1, 1), To: day(2028, 3, 31), Why: "closed"}},
		{3, 4, Window{From: day(2028, 1, 1), To: day(2028, 3, 31)}},
	} {
		if diff := cmp.Diff(tt.want, s.window(quarter, tt.q, tt.look)); diff != "" {
			t.Errorf("quarter %d (-want +got):\n%s", tt.q, diff)
		}
	}
	s.Windows[0].Why = "no permission"
	if got := s.window(quarter, 0, 4).Why; got != "no permission" {
		t.Errorf("held because %s", got)
	}
}

// A context that is ended stops the plan, before the first quarter and among the draws.
func TestPlansCanBeStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	site := Site{Quarter: survey.Quarter{Year: 2026, Number: 3}, Stands: []Stand{waits(1, 1, 1)}, Draws: 2}
	if p, err := Make(ctx, site, budget(1)); p != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("%v, %v", p, err)
	}
	if _, err := Make(&countdown{Context: context.Background(), left: 1}, site, budget(1)); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped among the draws: %v", err)
	}
}

// countdown is a context that ends when it was asked some times.
type countdown struct {
	context.Context
	left int
}

func (c *countdown) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// Each reason in the rows, by hand.
func TestReasonsOfRows(t *testing.T) {
	outlier := waits(4, 1, 1)
	outlier.Outlier = true
	blocks := Stand{Order: 5, Factor: 1, Place: 9, Waiting: []Block{{Acres: 1, Exposure: 1}, {Acres: 1, Exposure: 1}}}
	s := budget(99)
	p := made(t, s, waits(1, 1, 1, 0, 1, 2), waits(2, 1, 0, 2), waits(3, 1, 1), outlier, blocks)
	var got []string
	for _, r := range p.Rows {
		got = append(got, r.Why)
	}
	best := "of the best set for the money"
	want := []string{best + "; its fragments reach 2 stands planned too", "its fragments reach 1 stand planned below it", best, best,
		best + "; block 1 of 2, from the top down", best + "; block 2 of 2, from the top down"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("reasons (-want +got):\n%s", diff)
	}
	s.OutliersFirst = true
	if got := made(t, s, outlier).Rows[0].Why; got != "young and by itself" {
		t.Errorf("an outlier first: %s", got)
	}
	if !slices.IsSortedFunc(p.Rows, func(a, b Row) int { return a.Place - b.Place }) {
		t.Error("rows are not in their order")
	}
}

// Acres have as many digits as everywhere, money two. A unit's name is the one given.
func TestAmountsAndUnits(t *testing.T) {
	for _, tt := range []struct {
		s      Settings
		unit   string
		amount string
		one    Cost
		acre   CostPerAcre
	}{
		{budget(9), "acres", "0.50", 0.5, 1}, {Settings{SetUp: 1}, "units of cost", "1234.57", 1234.567, 0}, {Settings{PerAcre: 3}, "units of cost", "0.50", 0.5, 3},
		{Settings{Unit: "hours"}, "hours", "2.00", 2, 1},
	} {
		p := Plan{Unit: tt.s.UnitName()}
		if p.Unit != tt.unit || p.Text(tt.one) != tt.amount || tt.s.perAcre() != tt.acre {
			t.Errorf("%+v: %s, %s, %g", tt.s, p.Unit, p.Text(tt.one), tt.s.perAcre())
		}
	}
	if First.String() != "first_treatment" || FollowUp.String() != "follow_up" || !strings.HasPrefix(followed(3), "year 3 ") {
		t.Error("a kind has another word")
	}
}
