package plan

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/survey"
)

// Whole plans of one quarter, with sites, blocks, cost factors and due follow-up, remove as much as
// integer programming finds possible: scipy.optimize.milp (HiGHS) of scipy 1.10.1, by
// scripts/oracle_plan.py.
func TestPlansAreTheBestByIntegerProgramming(t *testing.T) {
	text, err := os.ReadFile("../../testdata/plan/quarters.json")
	if err != nil {
		t.Fatal(err)
	}
	var problems []struct {
		SetUp  Cost        `json:"set_up"`
		Acre   CostPerAcre `json:"per_acre"`
		Budget Cost
		Labour []geo.Share
		Best   float64
		Stands []struct {
			Site    int32
			Factor  drift.Factor
			Reaches []int32
			Blocks  []struct {
				Acres    geo.Acres
				Exposure drift.AmountKm
			}
			Due *struct {
				Quarter, Year int
				Acres         geo.Acres
			}
		}
	}
	if err := json.Unmarshal(text, &problems); err != nil {
		t.Fatal(err)
	}
	if len(problems) < 50 {
		t.Fatalf("%d problems", len(problems))
	}
	q := survey.Quarter{Year: 2026, Number: 3}
	for k, p := range problems {
		s := DefaultSettings()
		s.Budget, s.SetUp, s.PerAcre, s.Labour = p.Budget, p.SetUp, p.Acre, p.Labour
		stands := make([]Stand, len(p.Stands))
		for i, in := range p.Stands {
			st := Stand{Order: i + 1, Factor: in.Factor, Place: in.Site, Reaches: in.Reaches}
			for _, b := range in.Blocks {
				st.Waiting = append(st.Waiting, Block{Acres: b.Acres, Exposure: b.Exposure})
			}
			if in.Due != nil {
				st.Due = []Due{{Day: q.Begin().AddDate(0, 3*(in.Due.Quarter+1), 5), Year: in.Due.Year, Acres: in.Due.Acres}}
			}
			stands[i] = st
		}
		got := made(t, s, stands...).Quarters[0]
		if !got.Exact || math.Abs(float64(got.Exposure)-p.Best) > 1e-6*p.Best+1e-6 {
			t.Errorf("problem %d takes away %g (exact %v), the best is %g", k, got.Exposure, got.Exact, p.Best)
		}
	}
}
