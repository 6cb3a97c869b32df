package stream

import (
	"strconv"

	"github.com/paulmach/orb"

	"driftreach/internal/check"
)

// Options says how Check reports.
type Options struct {
	FindingLimit int // as check.Log.Limit
}

// Check finishes the centerlines of one batch, of all its files together. It
// rejects lines that cannot be drawn and copies of lines, under another id too, drops repeated vertices, brings
// longitudes that run past 180 back into range, blanks values that cannot be
// true, makes missing ids from file and row and repeated ids unique, and
// returns the accepted lines sorted by id with what it found. The answer depends
// on the set of lines, not on their order. It takes the slice over: the answer
// shares its memory and that of the paths. Cost: n log n in lines and, by line, in
// vertices.
func Check(lines []Centerline, o Options) ([]Centerline, []check.Finding) {
	c := checker{Checker: check.Checker[Centerline]{Kind: kind, Log: check.Log{Limit: o.FindingLimit}}}
	kept := c.dropCopies(c.Unify(c.Accept(lines, c.accept)))
	c.reportCoasts(kept)
	return kept, c.Findings()
}

type checker struct {
	check.Checker[Centerline]
	crosser crosser
}

// kind is how lines are told apart and reported.
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

// accept looks at one line by itself; false means rejected.
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

// Label returns what findings call the line: its id, or "row 12" without one.
func (l *Centerline) Label() string { return check.Label(l.ID, l.File, l.Row) }

// reportAt is Report with the place of the trouble in place of the line's start.
func (c *checker) reportAt(l *Centerline, rule check.Rule, p orb.Point, message string) {
	c.Add(check.Finding{Rule: rule, File: l.File, Record: l.Label(), Field: "geometry", Message: message, Position: &p})
}

func plain(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
