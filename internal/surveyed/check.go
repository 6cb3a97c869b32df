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

// Options says what Check holds the ground against.
type Options struct {
	Begin, End   time.Time // first and last day of the quarter; zero for none: every date will do
	FindingLimit int       // as check.Log.Limit
}

// Check finishes the surveyed ground of one batch, of all its files together:
// rejects pieces without a usable place, makes longitudes run on across the
// antimeridian, leaves out dates that run backwards, and reports pieces none of
// whose days lies in the quarter and of copies. It returns the accepted pieces in
// the order of their content with what it found; During says which of them count. The
// answer depends on the set of pieces, not on their order. It takes the slice
// and its geometry over. n log n.
func Check(ground []Ground, o Options) ([]Ground, []check.Finding) {
	c := checker{check.Checker[Ground]{Kind: kind, Log: check.Log{Limit: o.FindingLimit}}, o}
	return c.Unify(c.Accept(ground, c.accept)), c.Findings()
}

type checker struct {
	check.Checker[Ground]
	options Options
}

// kind is how pieces of ground are told apart and reported.
var kind = check.Kind[Ground]{
	Noun: "piece", Corner: "position", Misplaced: misplaced,
	Duplicate: ruleDuplicate, Copied: "the same piece is there twice", KeepCopies: true,
	Origin:  func(g *Ground) (string, int) { return g.File, g.Row },
	At:      func(g *Ground) *orb.Point { return check.ShownFirst(g.paths()) },
	Compare: compareContent,
}

// accept looks at one piece by itself; false means rejected.
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

// During says whether a day of the piece may lie between two days, both
// counted: one without dates always does, and zero days bound nothing.
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

// days writes the days of the piece.
func (g *Ground) days() string {
	var out []string
	for _, day := range []time.Time{g.Begin, g.End} {
		if !day.IsZero() {
			out = append(out, day.Format(time.DateOnly))
		}
	}
	return strings.Join(slices.Compact(out), "/")
}

// paths returns every line and ring of the piece: its own memory.
func (g *Ground) paths() []orb.LineString {
	out := slices.Clone(g.Lines)
	for _, polygon := range g.Areas {
		for _, ring := range polygon {
			out = append(out, orb.LineString(ring))
		}
	}
	return out
}

// place looks at every vertex, makes longitudes run on and repairs areas; false
// means rejected.
func (c *checker) place(g *Ground) bool {
	if !check.Placed(&c.Checker, g, g.paths()) {
		return false
	}
	for _, line := range g.Lines {
		earth.RunOn(line, line[0][0])
	}
	if len(g.Areas) > 0 { // a loop somebody drew in walking often crosses itself
		earth.RunOnAreas(g.Areas)
		g.Areas, _ = shape.MakeValid(g.Areas)
	}
	if len(g.paths()) == 0 {
		c.Report(g, ruleEmpty, "geometry", "", "the piece covers nothing; it was rejected")
		return false
	}
	return true
}

// compareContent orders pieces by everything they say, file and row apart.
func compareContent(a, b *Ground) int {
	return cmp.Or(
		a.Begin.Compare(b.Begin), a.End.Compare(b.End), cmp.Compare(a.Method, b.Method), cmp.Compare(a.Bank, b.Bank),
		geo.CompareLines(a.Lines, b.Lines), geo.CompareAreas(a.Areas, b.Areas),
	)
}
