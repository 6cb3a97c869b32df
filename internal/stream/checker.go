package stream

import (
	"github.com/paulmach/orb"

	"driftreach/internal/check"
)

type checker struct {
	check.Checker[Centerline]
	crosser crosser
}

// reportAt is Report with a given position in place of the line's start.
func (c *checker) reportAt(l *Centerline, rule check.Rule, p orb.Point, message string) {
	c.Add(check.Finding{Rule: rule, File: l.File, Record: l.Label(), Field: "geometry", Message: message, Position: &p})
}

// Label returns the name of the line in findings: its id, or "row 12" without one.
func (l *Centerline) Label() string { return check.Label(l.ID, l.File, l.Row) }
