// Package knapsack chooses the set of highest value for a budget where some choices need others:
// the precedence-constrained knapsack problem. It knows only values, costs and needs, not what the
// items are.
//
//	items := []knapsack.Item{
//		{Value: 1, Cost: 2},                      // 0
//		{Value: 9, Cost: 1, Needs: []int32{0, 2}}, // 1 is in only when 0 and 2 are
//		{Cost: 3},                                 // 2: a set-up that is paid once for all that need it
//	}
//	c := knapsack.Best(items, 6, knapsack.Options{})
//	// c.In, c.Value <= c.Bound, c.Cost <= 6, c.Exact when nothing better exists
//
// Best answers for one budget, Curve for many (more budget never gives less value). Nested gives
// best sets, each containing the one before, and with them the highest value any set of a given
// cost can have (Pieces.Bound). The same items give the same answer, to the bit.
package knapsack

import (
	"fmt"
	"math"
)

// Item is something that is chosen or left out.
type Item struct {
	Value float64 // gain from choosing it; below 0 for a loss
	Cost  float64 // 0 or more, in the unit of the budget
	Needs []int32 // the items that must be in when this one is; direct needs suffice. Items that need each other are chosen together
}

// Fix says whether an item is settled before the choice.
type Fix int8

// The ways in which an item can be settled.
const (
	Free Fix = iota // open to choice
	In              // in with everything it needs, even beyond the budget; its cost counts
	Out             // not available, nor is anything that needs it; In of an item that needs it takes precedence
)

// Options say how a choice is made. The zero value leaves all items free and searches as long as
// usual.
type Options struct {
	Fixed []Fix // by item; nil leaves all free
	Nodes int   // how many branches an exact search may look at; 0 means usualNodes, 1 gives the quickest answer
}

// Choice is a set of items that fits a budget and contains everything its items need.
type Choice struct {
	In          []bool  // by item
	Value, Cost float64 // sums over the items in, in their order; only items fixed in can bring Cost above the budget
	Bound       float64 // no set that fits has a higher value, to rounding (1e-9 of it)
	Exact       bool    // no set that fits has a value above Value, to rounding
}

// check panics on invalid items: only a programming error can make them.
func check(items []Item, fixed []Fix) {
	if fixed != nil && len(fixed) != len(items) {
		panic(fmt.Sprintf("knapsack: %d items, %d of them settled", len(items), len(fixed)))
	}
	for i := range items {
		it := &items[i]
		if !(it.Cost >= 0) || math.IsInf(it.Cost, 0) || math.IsNaN(it.Value) || math.IsInf(it.Value, 0) {
			panic(fmt.Sprintf("knapsack: item %d has value %g and cost %g", i, it.Value, it.Cost))
		}
		for _, need := range it.Needs {
			if need < 0 || int(need) >= len(items) {
				panic(fmt.Sprintf("knapsack: item %d needs item %d of %d", i, need, len(items)))
			}
		}
	}
}
