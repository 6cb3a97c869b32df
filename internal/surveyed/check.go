package surveyed

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/check"
)

// Options says how ground is checked.
type Options struct {
	Begin, End   time.Time // first and last day of the quarter; zero accepts every date
	FindingLimit int       // as check.Log.Limit
}

// Check checks the surveyed ground of one batch, from all its files. It rejects pieces without a
// usable place, makes longitudes continuous across the antimeridian, and removes dates whose end is
// before their beginning. It reports copies, and pieces with no day in the quarter. It returns the
// accepted pieces sorted by content, and the findings; During says which pieces count. The result
// depends on the set of pieces, not on their order. It changes and reuses the given slice and its
// geometry. It takes n log n time.
func Check(ground []Ground, o Options) ([]Ground, []check.Finding) {
	c := checker{check.Checker[Ground]{Kind: kind, Log: check.Log{Limit: o.FindingLimit}}, o}
	return c.Unify(c.Accept(ground, c.accept)), c.Findings()
}

type checker struct {
	check.Checker[Ground]
	options Options
}

// kind says how pieces of ground are compared and reported.
var kind = check.Kind[Ground]{
	Noun: "piece", Corner: "position", Misplaced: misplaced,
	Duplicate: ruleDuplicate, Copied: "the same piece is there twice", KeepCopies: true,
	Origin:  func(g *Ground) (string, int) { return g.File, g.Row },
	At:      func(g *Ground) *orb.Point { return check.ShownFirst(g.paths()) },
	Compare: compareContent,
}

// accept checks one piece; false means rejected.
func (c *checker) accept(g *Ground) bool {
	if !c.place(g) {
		return false
	}
	if !g.Begin.IsZero() && !g.End.IsZero() && g.End.Before(g.Begin) {
		c.Report(g, ruleBackwards, "end_date", g.End.Format(time.DateOnly), "the end lies before the start; both were left out, and the quarter is assumed")
		g.Begin, g.End = time.Time{}, time.Time{}
	}
	if !g.During(c.options.Begin, c.options.End) {
		c.Report(g, ruleOutside, "start_date", g.days(), "no day of it lies in the quarter; it does not count as surveyed")
	}
	return true
}

// During says whether a day of the piece may be in a range of days, both ends included. A piece without
// dates may always be; a zero day is no limit.
func (g *Ground) During(begin, end time.Time) bool {
	first, last := g.Begin, g.End
	if first.IsZero() {
		first = last
	}
	if last.IsZero() {
		last = first
	}
	return first.IsZero() || (end.IsZero() || !first.After(end)) && (begin.IsZero() || !last.Before(begin))
}

// days formats the days of the piece.
func (g *Ground) days() string {
	var out []string
	for _, day := range []time.Time{g.Begin, g.End} {
		if !day.IsZero() {
			out = append(out, day.Format(time.DateOnly))
		}
	}
	return strings.Join(slices.Compact(out), "/")
}

// paths returns every line and ring of the piece, without copying.
func (g *Ground) paths() []orb.LineString {
	out := slices.Clone(g.Lines)
	for _, polygon := range g.Areas {
		for _, ring := range polygon {
			out = append(out, orb.LineString(ring))
		}
	}
	return out
}

// place checks every vertex, makes longitudes continuous and repairs areas; false means rejected.
func (c *checker) place(g *Ground) bool {
	if !check.Placed(&c.Checker, g, g.paths()) {
		return false
	}
	for _, line := range g.Lines {
		earth.RunOn(line, line[0][0])
	}
	if len(g.Areas) > 0 { // a loop drawn while walking often crosses itself
		earth.RunOnAreas(g.Areas)
		g.Areas, _ = shape.MakeValid(g.Areas)
	}
	if len(g.paths()) == 0 {
		c.Report(g, ruleEmpty, "geometry", "", "the piece covers nothing; it was rejected")
		return false
	}
	return true
}

// compareContent orders pieces by all their content, without file and row.
func compareContent(a, b *Ground) int {
	return cmp.Or(
		a.Begin.Compare(b.Begin), a.End.Compare(b.End), cmp.Compare(a.Method, b.Method), cmp.Compare(a.Bank, b.Bank),
		geo.CompareLines(a.Lines, b.Lines), geo.CompareAreas(a.Areas, b.Areas),
	)
}
