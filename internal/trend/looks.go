package trend

import (
	"fmt"
	"strings"

	"driftreach/internal/survey"
)

// Look is how many acres of a section were looked at last in a quarter.
type Look struct {
	Quarter survey.Quarter
	Acres   int64 // in units of 10^-Decimals
}

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

// lookedAt says whether the row tells of somebody who looked in its quarter.
func (r *Row) lookedAt(q survey.Quarter) bool {
	if !r.LooksTold { // a batch of an earlier version: what is not carried was seen
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

// ages returns the looks that a value of a quarter stands on as shares by the
// quarter's ordinal, that quarter alone where the row does not tell.
func (r *Row) ages(q survey.Quarter) map[int]float64 {
	sum := 0.0
	for _, l := range r.Looks {
		sum += float64(l.Acres)
	}
	if sum == 0 {
		return map[int]float64{ordinal(q): 1}
	}
	shares := map[int]float64{}
	for _, l := range r.Looks {
		shares[ordinal(l.Quarter)] += float64(l.Acres) / sum
	}
	return shares
}
