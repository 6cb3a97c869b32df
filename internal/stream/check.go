package stream

import (
	"github.com/paulmach/orb"

	"driftreach/internal/check"
)

// Options are the settings of Check.
type Options struct {
	FindingLimit int // as check.Log.Limit
}

// Check finishes the centerlines of one batch, from all its files together. It rejects lines that
// cannot be drawn, and copies of lines even under another id. It drops repeated vertices, brings
// longitudes past 180 back into range and blanks values that cannot be true. It makes missing ids
// from file and row, and repeated ids unique. It returns the accepted lines sorted by id, and the
// findings. The result depends on the set of lines, not on their order. It shares the memory of the
// slice and the paths, which the caller must not use again. Cost: n log n in lines and, for each
// line, in vertices.
func Check(lines []Centerline, o Options) ([]Centerline, []check.Finding) {
	c := checker{Checker: check.Checker[Centerline]{Kind: kind, Log: check.Log{Limit: o.FindingLimit}}}
	kept := c.dropCopies(c.Unify(c.Accept(lines, c.accept)))
	c.reportCoasts(kept)
	return kept, c.Findings()
}

// kind says how lines are told apart and named in findings.
var kind = check.Kind[Centerline]{
	Noun: "line", Duplicate: ruleDuplicate, Compare: compareContent,
	Origin: func(l *Centerline) (string, int) { return l.File, l.Row },
	At: func(l *Centerline) *orb.Point {
		if len(l.Path) == 0 || !inRange(l.Path[0]) {
			return nil
		}
		p := l.Path[0]
		return &p
	},
	Names: &check.Names[Centerline]{Field: "stream_id", ID: func(l *Centerline) *string { return &l.ID }, NoID: ruleNoID, SameID: ruleSameID, PerFile: true},
}

// accept checks one line alone; false means rejected.
func (c *checker) accept(l *Centerline) bool {
	if l.IsCoast() {
		setCoast(l)
	}
	if !c.checkPath(l) {
		return false
	}
	c.checkNodes(l)
	c.checkMeasures(l)
	return true
}
