package main

import (
	"errors"
	"fmt"

	"driftreach/internal/check"
	"driftreach/internal/earlier"
	"driftreach/internal/settings"
)

// chained checks that every batch continues the one before it, by the manifest hash that it gives. It
// marks those that do not, and returns what is wrong with each. The first may continue a batch that is
// not in the list.
func chained(batches []readBatch) []string {
	var wrong []string
	for i := range batches {
		if i == 0 || batches[i].previous == batches[i-1].hash {
			continue
		}
		batches[i].summary.Apart = true
		batches[i].summary.ReachApart = len(reachApart(&batches[i-1], &batches[i])) > 0
		wrong = append(wrong, broken(batches, i))
	}
	return wrong
}

// reachApart returns the inputs that make the reach of two batches not comparable.
func reachApart(before, b *readBatch) []string {
	return append(earlier.OtherWater(before.water, b.water), settings.OfReach(settings.Apart(before.settings, b.settings))...)
}

// broken says how batch i fails to continue the one before it.
func broken(batches []readBatch, i int) string {
	b, before := &batches[i], &batches[i-1]
	at := fmt.Sprintf("%s (%s)", b.dir, b.summary.Quarter)
	if b.previous == "" {
		return at + " belongs to no chain: it continues no batch"
	}
	for k := range i - 1 {
		if batches[k].hash == b.previous {
			return fmt.Sprintf("%s skips %s: it continues %s", at, before.dir, batches[k].dir)
		}
	}
	for k := range i {
		if batches[k].summary.Quarter.String() == b.previousQuarter {
			return fmt.Sprintf("%s does not continue %[3]s, but another batch of %[2]s: %[3]s was run again later", at, b.previousQuarter, batches[k].dir)
		}
	}
	return fmt.Sprintf("%s continues a batch of %s that is not named here", at, b.previousQuarter)
}

// mostBroken is how many broken links an error names. Our choice.
const mostBroken = 3

// chainError refuses batches that do not continue each other.
func chainError(wrong []string) error {
	return &inputError{
		errors.New("hold the batches against each other: " + check.FirstOf(wrong, mostBroken, "; ")),
		"name every batch of the chain, and run those after one that was run again, each with --previous; --unchained tells the trend all the same, from the levels there",
	}
}
