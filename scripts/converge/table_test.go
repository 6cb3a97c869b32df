package main

import (
	"math"
	"strings"
	"testing"
)

// TestDeviation: by hand. The best runs have means 10 and 20; the runs are off
// by 10 % and 20 % on the first and 0 % and 5 % on the second; a figure of 0 is
// left out.
func TestDeviation(t *testing.T) {
	reach := func(f figures) []percentiles { return f.reach }
	of := func(values ...float64) figures {
		var f figures
		for _, v := range values {
			f.reach = append(f.reach, percentiles{0, v, 0})
		}
		return f
	}
	best := []figures{of(9, 20, 0), of(11, 20, 0)}
	mean, worst := deviation([]figures{of(11, 20, 1), of(8, 19, 0)}, best, reach, 1)
	if math.Abs(mean-0.0875) > 1e-12 || math.Abs(worst-0.2) > 1e-12 {
		t.Errorf("mean %v, largest %v", mean, worst)
	}
	if mean, worst := deviation(best, best, reach, 0); mean != 0 || worst != 0 {
		t.Errorf("nothing to compare gives %v, %v", mean, worst)
	}
}

// TestTableHasARowForEachNumberOfDraws and ten columns.
func TestTableHasARowForEachNumberOfDraws(t *testing.T) {
	band := percentiles{1, 2, 3}
	one := []figures{{union: band, reach: []percentiles{band}, exposure: []percentiles{band}}}
	var b strings.Builder
	if err := write(&b, []round{{25, one}, {50, one}}); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(b.String()), "\n")
	if len(lines) != 6 || strings.Count(lines[5], "|") != 11 || !strings.HasPrefix(lines[5], "| 50 | 0.0 (0.0) |") {
		t.Errorf("%s", b.String())
	}
}
