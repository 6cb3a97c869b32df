package main

import (
	"fmt"
	"io"

	"driftreach/geo/knapsack"
	"driftreach/internal/result"
)

// seasons are the shares of all acres at which an order is compared with the best set.
var seasons = []float64{0.05, 0.1, 0.2, 0.3, 0.5}

// beginning is an order up to one share of the acres.
type beginning struct {
	taken float64 // share of all exposure removed by the order
	best  float64 // the same for the best set of stands that keeps the rule
	bound float64 // upper bound for any such set
}

// beginnings compares the recommended order with the best sets. Stands that reach each other count
// only when all of them are treated.
func beginnings(answer *result.Run) []beginning {
	items, row := problem(answer)
	var acres, exposure float64
	for _, it := range items {
		acres, exposure = acres+it.Cost, exposure+it.Value
	}
	budgets := make([]float64, len(seasons))
	for k, share := range seasons {
		budgets[k] = share * acres * (1 + 1e-12) // allows for sums in another order
	}
	out := make([]beginning, len(seasons))
	for k, c := range knapsack.Curve(items, budgets, knapsack.Options{}) {
		out[k] = beginning{taken: upTo(items, row, budgets[k]) / exposure, best: c.Value / exposure, bound: c.Bound / exposure}
	}
	return out
}

// problem reads items and their order from the result: the exposure a stand removes, its acres, and
// the stands upstream of it.
func problem(answer *result.Run) (items []knapsack.Item, row [][]int32) {
	items = make([]knapsack.Item, len(answer.Stands))
	for _, step := range answer.Steps {
		s := &answer.Stands[step.Stand]
		if n := len(row); n == 0 || answer.Stands[row[n-1][0]].Advice.Order != s.Advice.Order {
			row = append(row, nil)
		}
		row[len(row)-1] = append(row[len(row)-1], step.Stand)
		if step.Treat {
			items[step.Stand].Value, items[step.Stand].Cost = float64(s.Drift.Exposure), float64(s.Infested.Acres())
		}
		for _, below := range s.Drift.Reached {
			items[below].Needs = append(items[below].Needs, step.Stand)
		}
	}
	return items, row
}

// upTo is the value of the longest beginning of the order that fits a budget.
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

// showBeginnings prints the exposure removed by an order at some shares of the acres.
func showBeginnings(w io.Writer, all []beginning) {
	fmt.Fprintf(w, "exposure taken away after some of the acres:\n  %8s %8s %8s %8s %9s\n", "acres", "order", "best", "bound", "of bound")
	for k, b := range all {
		fmt.Fprintf(w, "  %7.0f%% %7.1f%% %7.1f%% %7.1f%% %8.1f%%\n", 100*seasons[k], 100*b.taken, 100*b.best, 100*b.bound, 100*b.taken/b.bound)
	}
}
