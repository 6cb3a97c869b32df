package main

import (
	"math"
	"path/filepath"
	"strconv"
	"testing"
)

// The plans of every quarter of the demo keep within the budget: no quarter costs more, running
// costs add up, and no first treatment is planned twice. In the first quarter of the chain, where
// all stream counts alike, a stand planned for the next of four quarters removes four times its
// exposure in order.csv.
func TestDemoPlans(t *testing.T) {
	dir := demoToRead(t)
	number := func(text string) float64 {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, quarter := range demoQuarters {
		rows := table(t, filepath.Join(dir, quarter, "plan.csv"))
		spent, seen := map[string]float64{}, map[string]bool{}
		for _, r := range rows {
			q := r["plan_quarter"]
			spent[q] += number(r["cost"])
			if math.Abs(spent[q]-number(r["running_cost"])) > 0.002 || spent[q] > 2+0.002 {
				t.Errorf("%s: %s has spent %g of 2 acres, and %s is told", quarter, q, spent[q], r["running_cost"])
			}
			if key := r["stand_id"] + r["block"]; r["work"] == "first_treatment" {
				if seen[key] {
					t.Errorf("%s: %s is planned twice", quarter, key)
				}
				seen[key] = true
			}
		}
		if len(spent) != 4 || len(seen) == 0 {
			t.Errorf("%s: %d quarters planned, %d first treatments", quarter, len(spent), len(seen))
		}
	}
	exposure := map[string]float64{}
	for _, r := range table(t, filepath.Join(dir, "2024Q4", "order.csv")) {
		exposure[r["stand_id"]] = number(r["exposure"])
	}
	n := 0
	for _, r := range table(t, filepath.Join(dir, "2024Q4", "plan.csv")) {
		if r["plan_quarter"] != "2025Q1" || r["block"] != "" {
			continue
		}
		n++
		if want := 4 * exposure[r["stand_id"]]; math.Abs(number(r["exposure_removed"])-want) > 1e-5 {
			t.Errorf("%s takes away %s, want %g", r["stand_id"], r["exposure_removed"], want)
		}
	}
	if n == 0 {
		t.Error("nothing is planned for 2025Q1")
	}
}

var demoQuarters = []string{"2024Q4", "2025Q1", "2025Q2", "2025Q3", "2025Q4", "2026Q1", "2026Q2", "2026Q3"}
