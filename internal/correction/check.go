package correction

import (
	"fmt"
	"slices"
	"time"

	"driftreach/internal/check"
)

// Options says how Check checks the rows.
type Options struct {
	End          time.Time // last day of the quarter; zero for no limit
	FindingLimit int       // as check.Log.Limit
}

// Check checks the corrections of one batch, from all its files. It rejects rows without a kind, a
// day or a subject, and leaves out copies. It returns the other rows sorted by day and content.
// Rows dated after the quarter are reported but returned; see After. The result depends on the set
// of rows, not on their order. It reuses the slice. n log n.
func Check(rows []Correction, o Options) ([]Correction, []check.Finding) {
	c := check.Checker[Correction]{Kind: kind, Log: check.Log{Limit: o.FindingLimit}}
	accept := func(k *Correction) bool {
		if rule, field, value, message := k.wrong(); message != "" {
			c.Report(k, rule, field, value, message+"; the row was rejected")
			return false
		}
		if k.After(o.End) {
			c.Report(k, ruleAfter, "date", k.Date.Format(time.DateOnly), "it was found out after the quarter; the row does not count yet")
		}
		return true
	}
	return c.Unify(c.Accept(rows, accept)), c.Findings()
}

// Content is what a row says, with its day but without its reason and its place in a file.
type Content struct {
	day                       int64
	kind                      Kind
	record, stand, otherStand string
}

// Content returns the content of a row. Rows that say the same have equal contents.
func (c *Correction) Content() Content {
	return Content{c.Date.Unix(), c.Kind, c.RecordID, c.StandID, c.OtherID}
}

// After says whether a row is dated after the given day. If that is zero, it is not.
func (c *Correction) After(day time.Time) bool { return !day.IsZero() && c.Date.After(day) }

// wrong says why a row cannot be used; message is blank if it can.
func (c *Correction) wrong() (rule check.Rule, field, value, message string) {
	switch {
	case !slices.Contains(Kinds(), c.Kind):
		return ruleKind, "correction", string(c.Kind), "the row does not say what is corrected"
	case c.Date.IsZero():
		return ruleNoDate, "date", "", "the row has no day"
	}
	if c.Kind == Misidentified || c.Kind == AbsenceWrong {
		if c.RecordID == "" && c.StandID == "" {
			return ruleNoSubject, "stand_id", "", "the row names neither a record nor a stand"
		}
		return rule, "", "", ""
	}
	switch subject, stand := c.pair(); {
	case subject == "" || stand == "":
		return ruleNoSubject, "other_stand_id", c.OtherID, "the row does not name two stands, or a record and a stand"
	case subject == stand:
		return ruleNoSubject, "other_stand_id", c.OtherID, "the row holds a stand against itself"
	}
	return rule, "", "", ""
}

// Join adds new rows to those that the chain has applied already; both are as Check returns them. A new
// row that the chain knows is left out. If two rows contradict each other, the later one counts. If
// they have the same day, neither counts, except one that was applied already. The cost is that of
// sorting the rows.
func Join(taken, fresh []Correction) ([]Correction, []check.Finding) {
	known := make(map[Content]bool, len(taken))
	for i := range taken {
		known[taken[i].Content()] = true
	}
	all := slices.Clone(taken)
	for i := range fresh {
		if !known[fresh[i].Content()] {
			all = append(all, fresh[i])
		}
	}
	slices.SortStableFunc(all, func(a, b Correction) int { return compareContent(&a, &b) })
	j := joiner{all: all, out: make([]bool, len(all)), said: map[[2]int]bool{}}
	for _, rows := range subjects(all) {
		j.settle(rows)
	}
	kept := make([]Correction, 0, len(all))
	for i := range all {
		if !j.out[i] {
			kept = append(kept, all[i])
		}
	}
	return kept, j.log.Findings()
}

// subjects groups rows by the things they are about. Two rows in a group contradict each other if their
// kinds do. Rows keep their order, and groups have the order of their first rows.
func subjects(all []Correction) [][]int {
	var groups [][]int
	at := map[[3]string]int{}
	put := func(i int, key [3]string) {
		k, there := at[key]
		if !there {
			k = len(groups)
			at[key], groups = k, append(groups, nil)
		}
		if g := groups[k]; len(g) == 0 || g[len(g)-1] != i { // the same row twice in succession
			groups[k] = append(g, i)
		}
	}
	for i := range all {
		c := &all[i]
		if c.Kind == SameStand || c.Kind == NotSameStand {
			a, b := c.pair()
			put(i, [3]string{"pair", min(a, b), max(a, b)})
		}
		if c.Kind == NotSameStand {
			continue // it is also true of a misidentified record or stand
		}
		if c.RecordID != "" {
			put(i, [3]string{"record", c.RecordID})
		} else if c.StandID != "" {
			put(i, [3]string{"stand", c.StandID})
		}
		if c.OtherID != "" && c.Kind != Misidentified {
			put(i, [3]string{"stand", c.OtherID})
		}
	}
	return groups
}

// joiner decides which of the rows that contradict each other count.
type joiner struct {
	all  []Correction
	out  []bool
	said map[[2]int]bool // by row and whether the other row has the same day: a row is reported once
	log  check.Log
}

// settle decides between the rows of one group, from the last day to the first. A row does not count if
// a row of a later day, or another of its own day, contradicts it.
func (j *joiner) settle(rows []int) {
	later := map[Kind]int{} // by kind: the first row of a later day
	for end := len(rows); end > 0; {
		begin := end - 1
		for begin > 0 && j.all[rows[begin-1]].Date.Equal(j.all[rows[begin]].Date) {
			begin--
		}
		today := map[Kind]int{}
		for k := end - 1; k >= begin; k-- {
			today[j.all[rows[k]].Kind] = rows[k]
		}
		for _, i := range rows[begin:end] {
			if k := j.against(i, later); k >= 0 {
				j.superseded(i, k)
			}
			if k := j.against(i, today); k >= 0 {
				j.contradicts(i, k)
			}
		}
		for kind, k := range today { // the order does not matter
			later[kind] = k
		}
		end = begin
	}
}

// against returns the first of the given rows that contradicts row i; -1 for none.
func (j *joiner) against(i int, rows map[Kind]int) int {
	first := -1
	for kind, k := range rows { // find the smallest index
		if clash(j.all[i].Kind, kind) && (first < 0 || k < first) {
			first = k
		}
	}
	return first
}

// clash says whether two rows about the same thing cannot both be true.
func clash(a, b Kind) bool {
	pairs := (a == SameStand || a == NotSameStand) && (b == SameStand || b == NotSameStand)
	return a != b && (pairs || a == Misidentified || b == Misidentified)
}

// superseded drops row i, which the later row k contradicts.
func (j *joiner) superseded(i, k int) {
	first, second := &j.all[i], &j.all[k]
	j.out[i] = true
	switch {
	case first.Taken == "":
		j.tell(i, 0, ruleSuperseded, says(second)+" later; the later row counts")
	default:
		j.tell(k, 0, ruleSuperseded, says(first)+"; the later row counts from now on")
	}
}

// contradicts drops row i, which row k of the same day contradicts, unless it was applied already.
func (j *joiner) contradicts(i, k int) {
	if j.all[i].Taken == "" {
		j.out[i] = true
		j.tell(i, 1, ruleContradict, says(&j.all[k])+"; the row was not applied")
	}
}

// tell reports a row once.
func (j *joiner) tell(i, way int, rule check.Rule, message string) {
	if key := [2]int{i, way}; !j.said[key] {
		j.said[key] = true
		j.log.Add(kind.Finding(&j.all[i], rule, "correction", string(j.all[i].Kind), message))
	}
}

// says describes a row in a message about another.
func says(c *Correction) string {
	return fmt.Sprintf("another row, of %s, says %q of %s", c.Date.Format(time.DateOnly), string(c.Kind), c.names())
}
