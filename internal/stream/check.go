package stream

import (
	"maps"
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
	c := checker{log: check.Log{Limit: o.FindingLimit}}
	nameless := c.namelessFiles(lines)
	kept := lines[:0]
	made := map[int]bool{}
	for i := range lines {
		l := lines[i]
		if l.IsCoast() {
			setCoast(&l)
		}
		if !c.checkPath(&l) {
			continue
		}
		c.checkNodes(&l)
		c.checkMeasures(&l)
		if l.ID == "" {
			l.ID = check.MadeID(l.File, l.Row)
			made[len(kept)] = true
			if !nameless[l.File] {
				c.report(&l, ruleNoID, "stream_id", "", "the line has no id; "+l.ID+" was made from file and row")
			}
		}
		kept = append(kept, l)
	}
	clear(lines[len(kept):])
	kept = c.dropCopies(c.unify(kept, made))
	c.reportCoasts(kept)
	return kept, c.log.Findings()
}

type checker struct {
	log     check.Log
	crosser crosser
}

// namelessFiles returns the files none of whose lines has an id, and tells of
// each once.
func (c *checker) namelessFiles(lines []Centerline) map[string]bool {
	named, all := map[string]bool{}, map[string]bool{}
	for i := range lines {
		all[lines[i].File] = true
		if lines[i].ID != "" {
			named[lines[i].File] = true
		}
	}
	maps.DeleteFunc(all, func(f string, _ bool) bool { return named[f] })
	for f := range all { // the log sorts
		c.log.Add(check.Finding{Rule: ruleNoID, File: f, Field: "stream_id", Message: "the file has no ids; they were made from file and row"})
	}
	return all
}

// Label returns what findings call the line: its id, or "row 12" without one.
func (l *Centerline) Label() string { return check.Label(l.ID, l.File, l.Row) }

func (c *checker) report(l *Centerline, rule check.Rule, field, value, message string) {
	f := check.Finding{Rule: rule, File: l.File, Record: l.Label(), Field: field, Value: value, Message: message}
	if len(l.Path) > 0 && inRange(l.Path[0]) {
		p := l.Path[0]
		f.Position = &p
	}
	c.log.Add(f)
}

// reportAt is report with the place of the trouble in place of the line's start.
func (c *checker) reportAt(l *Centerline, rule check.Rule, p orb.Point, message string) {
	c.log.Add(check.Finding{Rule: rule, File: l.File, Record: l.Label(), Field: "geometry", Message: message, Position: &p})
}

func plain(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
