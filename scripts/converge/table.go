package main

import (
	"fmt"
	"io"
	"math"
)

// round is the runs with one number of draws, one for each seed.
type round struct {
	draws int
	runs  []figures
}

// write prints the table: the mean absolute deviation in percent over seeds,
// and over stands, and in brackets the largest.
func write(out io.Writer, rounds []round) error {
	best := rounds[len(rounds)-1].runs
	groups := []struct {
		name string
		of   func(figures) []percentiles
	}{
		{"union", func(f figures) []percentiles { return []percentiles{f.union} }},
		{"reach", func(f figures) []percentiles { return f.reach }},
		{"exposure", func(f figures) []percentiles { return f.exposure }},
	}
	fmt.Fprintf(out, "deviation from the mean of %d seeds at %d draws, %%: mean (largest)\n\n| draws |", len(best), rounds[len(rounds)-1].draws)
	for _, g := range groups {
		for _, p := range []string{"P10", "P50", "P90"} {
			fmt.Fprintf(out, " %s %s |", g.name, p)
		}
	}
	fmt.Fprint(out, "\n|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|\n")
	for _, r := range rounds {
		fmt.Fprintf(out, "| %d |", r.draws)
		for _, g := range groups {
			for k := range 3 {
				mean, worst := deviation(r.runs, best, g.of, k)
				fmt.Fprintf(out, " %.1f (%.1f) |", 100*mean, 100*worst)
			}
		}
		if _, err := fmt.Fprintln(out); err != nil {
			return err
		}
	}
	return nil
}

// deviation compares percentile k of the runs with the mean of the best runs: the mean and the
// largest |value / mean - 1|, without figures that are 0.
func deviation(runs, best []figures, of func(figures) []percentiles, k int) (mean, worst float64) {
	n := 0
	for i := range of(best[0]) {
		truth := 0.0
		for _, f := range best {
			truth += of(f)[i][k] / float64(len(best))
		}
		if truth == 0 {
			continue
		}
		for _, f := range runs {
			off := math.Abs(of(f)[i][k]/truth - 1)
			mean, worst, n = mean+off, max(worst, off), n+1
		}
	}
	return mean / float64(max(n, 1)), worst
}
