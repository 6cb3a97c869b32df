package main

import (
	"fmt"
	"io"

	"driftreach/geo/knapsack"
	"driftreach/internal/result"
)

// seasons are the shares of all acres at which an order is held to the best there
// is.
var seasons = []float64{0.05, 0.1, 0.2, 0.3, 0.5}

// beginning is an order at one share of the acres.
type beginning struct {
	taken float64 // share of all exposure that the order has taken away
	best  float64 // the same of the best set of stands that keeps the rule
	bound float64 // no such set takes more
}

// beginnings holds the recommended order to the best sets. Stands that reach each
// other count when all of them are treated.
func beginnings(answer *result.Run) []beginning {
	items, row := problem(answer)
	var acres, exposure float64
	for _, it := range items {
		acres, exposure = acres+it.Cost, exposure+it.Value
	}
	budgets := make([]float64, len(seasons))
	for k, share := range seasons {
		budgets[k] = share * acres * (1 + 1e-12) // sums in another order
	}
	out := make([]beginning, len(seasons))
	for k, c := range knapsack.Curve(items, budgets, knapsack.Options{}) {
		out[k] = beginning{taken: upTo(items, row, budgets[k]) / exposure, best: c.Value / exposure, bound: c.Bound / exposure}
	}
	return out
}

// problem reads items and their row from the answer: what a stand takes away, its
// acres, and the stands above it.
func problem(answer *result.Run) (items []knapsack.Item, row [][]int32) {
	items = make([]knapsack.Item, len(answer.Stands))
	for _, step := range answer.Steps {
		s := &answer.Stands[step.Stand]
		if n := len(row); n == 0 || answer.Stands[row[n-1][0]].Plan.Order != s.Plan.Order {
			row = append(row, nil)
		}
		row[len(row)-1] = append(row[len(row)-1], step.Stand)
		if step.Treat {
			items[step.Stand].Value, items[step.Stand].Cost = s.Drift.Exposure, float64(s.Infested.Acres())
		}
		for _, below := range s.Drift.Reached {
			items[below].Needs = append(items[below].Needs, step.Stand)
		}
	}
	return items, row
}

// upTo is the value of the longest beginning of a row within a budget.
func upTo(items []knapsack.Item, row [][]int32, budget float64) float64 {
	var value float64
	for _, together := range row {
		var more float64
		for _, i := range together {
			budget -= items[i].Cost
			more += items[i].Value
		}
		if budget < 0 {
			break
		}
		value += more
	}
	return value
}

// showBeginnings prints what an order has taken after some shares of the acres.
func showBeginnings(w io.Writer, all []beginning) {
	fmt.Fprintf(w, "exposure taken away after some of the acres:\n  %8s %8s %8s %8s %9s\n", "acres", "order", "best", "bound", "of bound")
	for k, b := range all {
		fmt.Fprintf(w, "  %7.0f%% %7.1f%% %7.1f%% %7.1f%% %8.1f%%\n", 100*seasons[k], 100*b.taken, 100*b.best, 100*b.bound, 100*b.taken/b.bound)
	}
}
