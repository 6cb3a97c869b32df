package trend

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"driftreach/internal/survey"
)

// parseLooks reads "2026Q1 3.2; 2026Q3 10.15".
func parseLooks(cell string) ([]Look, error) {
	if cell == "" {
		return nil, nil
	}
	var looks []Look
	for _, item := range strings.Split(cell, "; ") {
		name, acres, _ := strings.Cut(item, " ")
		q, err := survey.ParseQuarter(name)
		if err != nil {
			return nil, fmt.Errorf("%q is not a quarter and its acres", item)
		}
		n, err := fixedPoint(acres)
		if err != nil {
			return nil, err
		}
		looks = append(looks, Look{q, n})
	}
	return looks, nil
}

// lookedAt says whether the row shows a survey in its quarter.
func (r *Row) lookedAt(q survey.Quarter) bool {
	if !r.LooksTold { // a batch of an earlier version: all that is not carried was seen
		carried := max(0, r.Figures[Carried])
		return r.Figures[Infested] > carried || r.Figures[Infested] == 0 || r.Figures[NotDetected] > 0
	}
	for _, l := range r.Looks {
		if l.Quarter == q {
			return true
		}
	}
	return false
}

// ages returns the acres of a quarter by the ordinal of the quarter of their last look; the quarter
// itself where the row has no looks.
func (r *Row) ages(q survey.Quarter) map[int]float64 {
	acres := map[int]float64{}
	for _, l := range r.Looks {
		if l.Acres > 0 {
			acres[l.Quarter.Ordinal()] += float64(l.Acres)
		}
	}
	if len(acres) == 0 {
		acres[q.Ordinal()] = 1
	}
	return acres
}

// ground returns, by quarter, the shares of the ground known at the end, by the ordinal of the
// quarter of its last look up to then. Ground not yet surveyed counts as first seen later.
func (h *History) ground(ages []map[int]float64, first []float64) []map[int]float64 {
	out := make([]map[int]float64, len(ages))
	for k, acres := range ages {
		if acres == nil {
			continue
		}
		shares, sum := map[int]float64{}, 0.0
		for q, a := range acres { // in the quarter's own map
			shares[q] += a
		}
		for later := k + 1; later < len(ages); later++ {
			if first[later] > 0 {
				shares[h.Quarters[later].Ordinal()] += first[later]
			}
		}
		for _, q := range slices.Sorted(maps.Keys(shares)) {
			sum += shares[q]
		}
		for q := range shares {
			shares[q] /= sum
		}
		out[k] = shares
	}
	return out
}

// firstSeen returns, by quarter, the infested acres of section i that were neither there before nor
// are a change since the last look: ground surveyed for the first time.
func (h *History) firstSeen(i int) []float64 {
	figures := h.Sections[i].Figures
	out := make([]float64, len(figures))
	before := -1
	for k, f := range figures {
		if f == nil || f[Infested] == Blank {
			continue
		}
		if before >= 0 {
			out[k] = float64(max(0, f[Infested]-figures[before][Infested]-h.change(i, Infested, before, k)))
		}
		before = k
	}
	return out
}
