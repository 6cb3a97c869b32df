package survey

import (
	"fmt"

	"driftreach/internal/check"
)

type checker struct {
	check.Checker[Record]
	options Options
	last    Day                // last day of the quarter
	aside   map[string]int     // number set aside, by file
	early   Spans              // those of earlier quarters, by file
	outside map[string]outside // by file
	drawn   map[string]drawn   // by file
}

func (c *checker) blank(r *Record, rule check.Rule, field string, v float64, why string) {
	c.Report(r, rule, field, check.Number(v), fmt.Sprintf("%s is %s; the value was left out", field, why))
}
