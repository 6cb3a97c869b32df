package plan

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/survey"
)

// waits is a stand waiting for treatment, with the given acres and exposure.
func waits(order int, acres geo.Acres, exposure drift.AmountKm, reaches ...int32) Stand {
	return Stand{Order: order, Factor: 1, Place: int32(order), Reaches: reaches, Waiting: []Block{{Acres: acres, Exposure: exposure}}}
}

func made(t interface {
	Helper()
	Fatal(...any)
}, s Settings, stands ...Stand) *Plan {
	t.Helper()
	p, err := Make(context.Background(), Site{Quarter: survey.Quarter{Year: 2026, Number: 3}, Stands: stands}, s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// told writes each row as quarter, stand, kind, block and cost.
func told(p *Plan) []string {
	var out []string
	for _, r := range p.Rows {
		out = append(out, fmt.Sprintf("%s %d: %d %s %d/%d %g", r.Quarter, r.Place, r.Stand, r.Kind, r.Block, r.Blocks, math.Round(1e6*float64(r.Cost))/1e6))
	}
	return out
}

func budget(b Cost) Settings {
	s := DefaultSettings()
	s.Budget = b
	return s
}

// Every plan here is worked out by hand.
func TestPlansByHand(t *testing.T) {
	may := time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)
	grown := Stand{Order: 1, Factor: 1, Due: []Due{{Day: may, Year: 1, Acres: 10, Grows: 3, Why: "regrowth"}}}
	setUp := func(s Settings) Settings { s.SetUp, s.PerAcre = 5, 1; return s }
	year := func(s Settings, quarters int) Settings { s.Quarters = quarters; return s }
	tests := []struct {
		name   string
		s      Settings
		stands []Stand
		want   []string
	}{
		{"acres, the worth of the set and not the first of the order", budget(2),
			[]Stand{waits(1, 2, 1), waits(2, 1, 5), waits(3, 1, 4)},
			[]string{"2026Q4 1: 1 first_treatment 1/1 1", "2026Q4 2: 2 first_treatment 1/1 1"}},
		{"not where the money does not hold both", budget(1),
			[]Stand{waits(1, 1, 0, 2), waits(2, 1, 3), waits(3, 1, 5)},
			[]string{"2026Q4 1: 1 first_treatment 1/1 1"}},
		{"what reaches it comes too, and first", budget(2),
			[]Stand{waits(1, 1, 0, 2), waits(2, 1, 3), waits(3, 1, 5)},
			[]string{"2026Q4 1: 0 first_treatment 1/1 1", "2026Q4 2: 2 first_treatment 1/1 1"}},
		{"those that reach each other go together", budget(2),
			[]Stand{waits(1, 1, 3, 1), waits(1, 1, 3, 0), waits(2, 1, 4)},
			[]string{"2026Q4 1: 0 first_treatment 1/1 1", "2026Q4 2: 1 first_treatment 1/1 1"}},
		{"a site is set up once", setUp(budget(7)),
			[]Stand{waits(1, 1, 3), {Order: 2, Factor: 1, Place: 1, Waiting: []Block{{Acres: 1, Exposure: 2}}}, waits(3, 1, 4)},
			[]string{"2026Q4 1: 0 first_treatment 1/1 6", "2026Q4 2: 1 first_treatment 1/1 1"}},
		// follow-up of a tenth of an acre leaves money for 0.17 acre
		{"due follow-up first", budget(1),
			[]Stand{grown, waits(2, 0.2, 9), waits(3, 0.17, 1)},
			[]string{"2026Q4 1: 0 follow_up 1/1 0.83", "2026Q4 2: 2 first_treatment 1/1 0.17"}},
		{"unless a setting says otherwise", func() Settings { s := budget(1); s.FollowUpFirst = false; return s }(),
			[]Stand{grown, waits(2, 0.2, 9), waits(3, 0.17, 1)},
			[]string{"2026Q4 1: 1 first_treatment 1/1 0.2", "2026Q4 2: 2 first_treatment 1/1 0.17"}},
		// year 2's share, 0.036 of 10 acres, is due four quarters after that of year 1
		{"put off, done in the next quarter, and again a year later", year(budget(0.83), 6),
			[]Stand{grown, grown},
			[]string{"2026Q4 1: 0 follow_up 1/1 0.83", "2027Q1 1: 1 follow_up 1/1 0.83", "2027Q4 1: 0 follow_up 1/1 0.36", "2028Q1 1: 1 follow_up 1/1 0.36"}},
		{"costs by factor", func() Settings { s := budget(5); s.PerAcre = 2; return s }(),
			[]Stand{func() Stand { st := waits(1, 1, 5); st.Factor = 3; return st }(), waits(2, 2, 4)},
			[]string{"2026Q4 1: 1 first_treatment 1/1 4"}},
		{"the best of each quarter, one after the other", year(budget(1), 2),
			[]Stand{waits(1, 1, 1), waits(2, 1, 5)},
			[]string{"2026Q4 1: 1 first_treatment 1/1 1", "2027Q1 1: 0 first_treatment 1/1 1"}},
		{"a large stand in blocks from the top down, and what it reaches after them", year(budget(2), 2),
			[]Stand{{Order: 1, Factor: 1, Reaches: []int32{1}, Waiting: []Block{{Acres: 2, Exposure: 1}, {Acres: 1, Exposure: 9}}}, waits(2, 1, 3)},
			[]string{"2026Q4 1: 0 first_treatment 1/2 2", "2027Q1 1: 0 first_treatment 2/2 1", "2027Q1 2: 1 first_treatment 1/1 1"}},
		{"young outliers first, by a setting", func() Settings { s := budget(1); s.OutliersFirst = true; return s }(),
			[]Stand{waits(1, 1, 9), func() Stand { st := waits(2, 1, 1); st.Outlier = true; return st }()},
			[]string{"2026Q4 1: 1 first_treatment 1/1 1"}},
		{"carried for long: looked at first, planned in the next quarter", year(budget(1), 2),
			[]Stand{func() Stand { st := waits(1, 1, 9, 1); st.Unseen = 4; return st }(), waits(2, 1, 1)},
			[]string{"2026Q4 1: 1 first_treatment 1/1 1", "2027Q1 1: 0 first_treatment 1/1 1"}},
		{"what may not be treated blocks nothing below it", budget(1),
			[]Stand{func() Stand { st := waits(1, 1, 9, 1); st.Windows = []Window{{Why: "no permission"}}; return st }(), waits(2, 1, 1)},
			[]string{"2026Q4 1: 1 first_treatment 1/1 1"}},
		{"nothing waits", budget(1), []Stand{{Order: 1, Factor: 1}}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, told(made(t, tt.s, tt.stands...))); diff != "" {
				t.Errorf("rows (-want +got):\n%s", diff)
			}
		})
	}
}

// A stand of 10 acres needs 0.83 acres of follow-up a year later. With 9.5 acres a quarter, of
// which 8.8 are already due then, it may not be started, though this quarter could pay for it; one
// of 8 acres (0.664) may.
func TestComingBudgetsMustCoverFollowUp(t *testing.T) {
	day := time.Date(2027, 11, 1, 0, 0, 0, 0, time.UTC) // in 2027Q4, four quarters after the first planned
	due := Stand{Order: 1, Factor: 1, Due: []Due{{Day: day, Year: 1, Acres: 8.8 / 0.083, Why: "treated"}}}
	p := made(t, budget(9.5), due, waits(2, 9, 9), waits(3, 8, 1))
	if diff := cmp.Diff([]string{"2026Q4 1: 2 first_treatment 1/1 8"}, told(p)); diff != "" {
		t.Errorf("rows (-want +got):\n%s", diff)
	}
	if got, want := p.Quarters[0].Free, 0.7/0.083; math.Abs(float64(got)-want) > 1e-9 {
		t.Errorf("first treatments may cost %g, want %g", got, want)
	}
}

// Over four planned quarters a stand is treated in the first with efficacy 0.9; a fifth grows back
// in a year, and untreated growth is a third a year: by hand 0.9 x (1 + 0.8^0.25 x 1.333^0.25 +
// 0.8^0.5 x 1.333^0.5 + 0.8^0.75 x 1.333^0.75) = 0.9 x sum of 1.0667^(t/4).
func TestWorthOverTheQuarters(t *testing.T) {
	s := budget(1)
	s.Quarters, s.Efficacy, s.Regrowth, s.Growth = 4, 0.9, 0.2, 1.0/3
	got := made(t, s, waits(1, 1, 2)).Rows[0].Exposure
	want := 0.0
	for k := range 4 {
		want += 2 * 0.9 * math.Pow(0.8*4/3, float64(k)/4)
	}
	if math.Abs(float64(got)-want) > 1e-12 {
		t.Errorf("takes away %g, want %g", got, want)
	}
}

// A stand that cannot be treated is listed with the stands its fragments reach, and the quarter
// when it can be.
func TestHeld(t *testing.T) {
	s := budget(1)
	s.Quarters = 3
	st := waits(1, 1, 9, 1)
	st.Windows = []Window{{Why: "no permission"}, {Why: "no permission"}, {}}
	got := made(t, s, st, waits(2, 1, 1)).Held
	want := []Held{{Stand: 0, Why: "no permission", Until: survey.Quarter{Year: 2027, Number: 2}, Seeds: []int32{1}, Leaves: 9}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("held (-want +got):\n%s", diff)
	}
}

// Three stands of which two fit: in a draw in which the third has the highest exposure it is chosen
// instead, so each is chosen in as many draws as it is among the best two.
func TestDraws(t *testing.T) {
	stands := []Stand{waits(1, 1, 3), waits(2, 1, 2), waits(3, 1, 1)}
	for i, draws := range [][]drift.DrawnExposure{{3, 3, 0, 3}, {2, 2, 2, 1}, {1, 9, 1, 2}} {
		stands[i].Draws = draws
	}
	p, err := Make(context.Background(), Site{Quarter: survey.Quarter{Year: 2026, Number: 3}, Stands: stands, Draws: 4}, budget(2))
	if err != nil {
		t.Fatal(err)
	}
	if p.Draws != 4 || p.Rows[0].Draws != 3 || p.Rows[1].Draws != 2 {
		t.Errorf("of %d draws in %d and %d, want of 4 in 3 and 2", p.Draws, p.Rows[0].Draws, p.Rows[1].Draws)
	}
}

// With more than 5,000 pieces of work there are no draws and no curve, and the plan says so.
func TestManyPiecesAreToldOf(t *testing.T) {
	stands := make([]Stand, mostRepeated+1)
	for i := range stands {
		stands[i] = waits(i+1, 1, drift.AmountKm(i%7+1))
		stands[i].Draws = []drift.DrawnExposure{1, 2}
	}
	for n, want := range map[int]int{9: 0, mostRepeated + 1: mostRepeated + 1} {
		p, err := Make(context.Background(), Site{Quarter: survey.Quarter{Year: 2026, Number: 3}, Stands: stands[:n], Draws: 2}, budget(3))
		if err != nil {
			t.Fatal(err)
		}
		if p.TooMany != want || (len(p.Curve) > 0) != (want == 0) || (p.Draws > 0) != (want == 0) {
			t.Errorf("%d pieces: told of %d, %d points of the curve, %d draws", n, p.TooMany, len(p.Curve), p.Draws)
		}
	}
}

// One acre of three is planned: a second would add the stand with exposure 4, together with the one
// above it, which has 0.
func TestNext(t *testing.T) {
	p := made(t, budget(1), waits(1, 1, 5), waits(2, 0.5, 0, 2), waits(3, 0.5, 4))
	if little := made(t, budget(2), waits(1, 1, 5), waits(2, 5, 50), waits(3, 1.5, 4)).Next; little == nil || little.Stand != 2 || little.More != 0.5 {
		t.Errorf("for a little more: %+v, want stand 2 for 0.5", little)
	}
	want := &Next{Stand: 2, With: 1, More: 1, Exposure: 4}
	if diff := cmp.Diff(want, p.Next); diff != "" {
		t.Errorf("next (-want +got):\n%s", diff)
	}
	if n := len(p.Curve); n == 0 || p.Curve[n-1].Exposure != 9 {
		t.Errorf("the curve ends at %v, want 9", p.Curve)
	}
}

// Plans of any programme keep the rules: never over a budget, no stand before one that reaches it
// and may be treated, blocks in turn, no work twice, correct running costs, and the curve never
// falls.
func TestPlansKeepTheRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, stands := drawProgramme(t)
		p := made(t, s, stands...)
		checkPlan(t, s, stands, p)
		for i := 1; i < len(p.Curve); i++ {
			if p.Curve[i].Exposure < p.Curve[i-1].Exposure {
				t.Fatalf("more money takes less away: %v", p.Curve)
			}
		}
	})
}

// A larger budget never removes less in the first quarter, where follow-up leaves as much.
func TestMoreBudgetNeverLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, stands := drawProgramme(t)
		s.OutliersFirst = false // outliers go before work that removes more
		more := s
		more.Budget += Cost(rapid.Float64Range(0, 10).Draw(t, "more"))
		a, b := made(t, s, stands...).Quarters[0], made(t, more, stands...).Quarters[0]
		if b.Free >= a.Free && b.Exposure < a.Exposure*(1-1e-9) {
			t.Fatalf("with %g it takes away %g, with %g only %g", s.Budget, a.Exposure, more.Budget, b.Exposure)
		}
	})
}

func drawProgramme(t *rapid.T) (Settings, []Stand) {
	s := budget(Cost(rapid.IntRange(0, 20).Draw(t, "budget")))
	s.Quarters = rapid.IntRange(1, 6).Draw(t, "quarters")
	if rapid.Bool().Draw(t, "costs") {
		s.SetUp, s.PerAcre = Cost(rapid.IntRange(0, 3).Draw(t, "set-up")), CostPerAcre(rapid.IntRange(1, 3).Draw(t, "per acre"))
	}
	s.FollowUpFirst, s.OutliersFirst = rapid.Bool().Draw(t, "follow-up first"), rapid.Bool().Draw(t, "outliers first")
	stands := make([]Stand, rapid.IntRange(0, 9).Draw(t, "stands"))
	for i := range stands {
		st := Stand{Order: i + 1, Factor: 1, Place: int32(rapid.IntRange(0, 4).Draw(t, "site")), Outlier: rapid.Bool().Draw(t, "outlier")}
		for range rapid.IntRange(0, 2).Draw(t, "blocks") {
			st.Waiting = append(st.Waiting, Block{Acres: geo.Acres(rapid.IntRange(0, 6).Draw(t, "acres")), Exposure: drift.AmountKm(rapid.IntRange(0, 9).Draw(t, "exposure"))})
		}
		for j := i + 1; j < len(stands); j++ {
			if rapid.IntRange(0, 3).Draw(t, "reaches") == 0 {
				st.Reaches = append(st.Reaches, int32(j))
			}
		}
		if rapid.IntRange(0, 3).Draw(t, "due") == 0 {
			st.Due = []Due{{Day: time.Date(2026, 8, 1, 0, 0, 0, 0, time.UTC).AddDate(0, rapid.IntRange(0, 20).Draw(t, "month"), 0), Year: rapid.IntRange(1, 5).Draw(t, "year"), Acres: geo.Acres(rapid.IntRange(0, 90).Draw(t, "acres treated"))}}
		}
		for range s.Quarters {
			w := Window{}
			if rapid.IntRange(0, 4).Draw(t, "held") == 0 {
				w.Why = "held"
			}
			st.Windows = append(st.Windows, w)
		}
		stands[i] = st
	}
	return s, stands
}

// checkPlan checks a plan against the rules of the package comment.
func checkPlan(t *rapid.T, s Settings, stands []Stand, p *Plan) {
	t.Helper()
	done := map[string]bool{} // stand and block
	all := func(i int32) bool {
		for k := range stands[i].Waiting {
			if !done[fmt.Sprint(i, k+1)] {
				return false
			}
		}
		return true
	}
	for q, sum := range p.Quarters {
		running, place := Cost(0), 0
		var first []Row
		for _, r := range p.Rows {
			if r.Quarter != sum.Quarter {
				continue
			}
			place++
			running += r.Cost
			if r.Place != place || math.Abs(float64(r.Running-running)) > 1e-9 {
				t.Fatalf("%s place %d running %g, want %d and %g", r.Quarter, r.Place, r.Running, place, running)
			}
			if stands[r.Stand].Windows[q].Why != "" {
				t.Fatalf("stand %d is planned in %s, when it may not be treated", r.Stand, r.Quarter)
			}
			if key := fmt.Sprint(r.Stand, r.Block); r.Kind == First {
				if done[key] {
					t.Fatalf("stand %d block %d is planned twice", r.Stand, r.Block)
				}
				done[key] = true
				first = append(first, r)
			}
		}
		if running > s.Budget+1e-9 || sum.First > sum.Free+1e-9 || math.Abs(float64(running-sum.First-sum.FollowUp)) > 1e-9 {
			t.Fatalf("%s costs %g of %g, first treatments %g of %g", sum.Quarter, running, s.Budget, sum.First, sum.Free)
		}
		if sum.Exposure > sum.Bound*(1+1e-9) || sum.Gap() < 0 {
			t.Fatalf("%s takes away %g, above the bound %g", sum.Quarter, sum.Exposure, sum.Bound)
		}
		for _, r := range first {
			for k := 1; k < r.Block; k++ {
				if !done[fmt.Sprint(r.Stand, k)] {
					t.Fatalf("stand %d block %d is planned before block %d", r.Stand, r.Block, k)
				}
			}
			for i := range stands {
				for _, j := range stands[i].Reaches {
					if j == r.Stand && !all(int32(i)) && stands[i].Windows[q].Why == "" {
						t.Fatalf("stand %d is planned in %s before %d, which reaches it", j, r.Quarter, i)
					}
				}
			}
		}
	}
}

func TestGapWords(t *testing.T) {
	for want, q := range map[string]Quarter{
		"no first treatment would take exposure away": {Exact: true},
		"the best possible":                           {Exposure: 5, Bound: 5, All: 9, First: 1},
		"within 0.6 % of the best possible":           {Exposure: 99.45, Bound: 100, All: 200, First: 1},
		"within 0.01 % of the best possible":          {Exposure: 99.995, Bound: 100, All: 200, First: 1},
		"within 10.0 % of the best possible":          {Exposure: 90, Bound: 100, All: 200, First: 1},
	} {
		if got := q.GapWords(); got != want {
			t.Errorf("%+v: %q, want %q", q, got, want)
		}
	}
}

func TestSettingsValidate(t *testing.T) {
	if err := DefaultSettings().Validate(); err != nil {
		t.Errorf("defaults: %v", err)
	}
	for name, change := range map[string]func(*Settings){
		"budget": func(s *Settings) { s.Budget = Cost(math.NaN()) }, "quarters": func(s *Settings) { s.Quarters = 0 }, "costs": func(s *Settings) { s.PerAcre = -1 },
		"block": func(s *Settings) { s.Block = 0 }, "site": func(s *Settings) { s.SiteDistance = -1 }, "look": func(s *Settings) { s.LookFirst = 0 },
		"efficacy": func(s *Settings) { s.Efficacy = 1.1 }, "growth": func(s *Settings) { s.Growth = -1 }, "labour": func(s *Settings) { s.Labour = []geo.Share{2} },
	} {
		s := DefaultSettings()
		if change(&s); s.Validate() == nil || !strings.Contains(s.Validate().Error(), name) {
			t.Errorf("%s: %v", name, s.Validate())
		}
	}
}
