// Package knapsack chooses what is worth most for a budget where choices need
// other choices: the knapsack problem under precedence. It knows things with a
// value and a cost, and nothing of what they are.
//
//	items := []knapsack.Item{
//		{Value: 1, Cost: 2},                      // 0
//		{Value: 9, Cost: 1, Needs: []int32{0, 2}}, // 1 is in only when 0 and 2 are
//		{Cost: 3},                                 // 2: a set-up that is paid once for all that need it
//	}
//	c := knapsack.Best(items, 6, knapsack.Options{})
//	// c.In, c.Value <= c.Bound, c.Cost <= 6, c.Exact when nothing better exists
//
// Best answers for one budget, Curve for many (where more budget never gives
// less). Nested gives the best sets one within the other, and with them the
// highest value that any set of a cost can have (Pieces.Bound). The same items
// give the same answer, to the bit.
package knapsack

import (
	"fmt"
	"math"
)

// Item is one thing to choose or not.
type Item struct {
	Value float64 // what choosing it brings; below 0 where it takes away
	Cost  float64 // 0 or more, in the unit of the budget
	Needs []int32 // the items that must be in when this one is; direct ones suffice. Items that need each other go together
}

// Fix says what is settled of an item before the choice.
type Fix int8

// The ways in which an item can be settled.
const (
	Free Fix = iota // to be chosen
	In              // in, with all that it needs, whatever the budget says; its cost counts
	Out             // not to be had, nor what needs it; In of what needs it is stronger
)

// Options say how a choice is made. The zero value is all free,
// searched as long as usual.
type Options struct {
	Fixed []Fix // by item; nil for all free
	Nodes int   // how many sets of choices an exact search may look at; 0 for usualNodes, 1 for the quickest answer
}

// Choice is a set of items that fits a budget, closed under what they need.
type Choice struct {
	In          []bool  // by item
	Value, Cost float64 // sums over the items in, in their order; Cost is above the budget only by what is fixed in
	Bound       float64 // no set that fits has a value above it, to rounding (1e-9 of it)
	Exact       bool    // no set that fits has a value above Value, to rounding
}

// check panics on items that no caller should make: they are our own mistake.
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
