package main

import (
	"bytes"
	"strings"
	"testing"

	"driftreach/internal/margin"
)

// TestMarginsAgainstBruteForce: a sample of the table. Of 200 draws a tenth percentile
// is itself off by some 0.12 deviations (order statistics of the normal distribution: the
// root of 0.09 / 200, over the density 0.1755), so that at half the range of 8 % it is
// off by 0.8 points; twice that and what second order adds are allowed.
func TestMarginsAgainstBruteForce(t *testing.T) {
	if testing.Short() {
		t.Skip("makes stands 400 times")
	}
	all := families()
	for _, c := range []struct {
		family int
		off    margin.Settings
		most   float64 // points
	}{
		{0, margin.DefaultSettings(), 2},
		{7, margin.DefaultSettings(), 2},
	} {
		for k, h := range against(all[c.family], c.off, 200) {
			if h.off() > c.most {
				t.Errorf("%s, acreage %d: %+.2f to %+.2f, by brute force %+.2f to %+.2f about %+.2f",
					all[c.family].name, k, h.p10, h.p90, h.drawn10, h.drawn90, h.mean)
			}
		}
	}
}

// Every family has its row.
func TestTableOfMargins(t *testing.T) {
	var b bytes.Buffer
	write(&b, families()[:1], cases[2:3], 20)
	if lines := strings.Split(strings.TrimSpace(b.String()), "\n"); len(lines) != 3 || !strings.HasPrefix(lines[2], "| lone patches | -") {
		t.Errorf("%s", b.String())
	}
}
