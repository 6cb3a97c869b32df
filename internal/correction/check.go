package correction

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"driftreach/internal/check"
)

// Options says what Check holds the rows against.
type Options struct {
	End          time.Time // last day of the quarter; zero for none: no row comes after it
	FindingLimit int       // as check.Log.Limit
}

// Check finishes the corrections of one batch, of all its files together: rejects
// rows without a kind, a day or what they are about, and leaves out copies. It returns
// the others by day and content. Those after the quarter are among them and told of;
// After says so again. The answer depends on the set of rows, not on their order. It
// takes the slice over. n log n.
func Check(rows []Correction, o Options) ([]Correction, []check.Finding) {
	log := check.Log{Limit: o.FindingLimit}
	kept := rows[:0]
	for i := range rows {
		c := rows[i]
		if rule, field, value, message := c.wrong(); message != "" {
			log.Add(c.finding(rule, field, value, message+"; the row was rejected"))
			continue
		}
		if c.After(o.End) {
			log.Add(c.finding(ruleAfter, "date", c.Date.Format(time.DateOnly), "it was found out after the quarter; the row does not count yet"))
		}
		kept = append(kept, c)
	}
	slices.SortFunc(kept, func(a, b Correction) int {
		return cmp.Or(compareContent(&a, &b), strings.Compare(a.Reason, b.Reason), strings.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row))
	})
	single := kept[:0]
	for i := range kept {
		if last := len(single) - 1; last >= 0 && single[last].Same(&kept[i]) {
			log.Add(kept[i].finding(ruleDuplicate, "", "", "the row is there twice; the copy was left out"))
			continue
		}
		single = append(single, kept[i])
	}
	return single, log.Findings()
}

// Same says whether two rows say the same, of the same day.
func (c *Correction) Same(o *Correction) bool { return compareContent(c, o) == 0 }

// After says whether a row is of a later day than one; none is later than a zero day.
func (c *Correction) After(day time.Time) bool { return !day.IsZero() && c.Date.After(day) }

// wrong says why a row cannot be used; no message for nothing.
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

// compareContent orders rows by day and what they say, their reason apart.
func compareContent(a, b *Correction) int {
	return cmp.Or(
		a.Date.Compare(b.Date), strings.Compare(string(a.Kind), string(b.Kind)), strings.Compare(a.RecordID, b.RecordID),
		strings.Compare(a.StandID, b.StandID), strings.Compare(a.OtherID, b.OtherID),
	)
}

// Join puts fresh rows behind those that the chain has taken up already, both as
// Check returns them: a fresh row that the chain knows is left out, and of two that
// contradict each other the later one counts; of one day neither does, but for what
// was taken up. Cost is that of the rows times those about the same record or stand.
func Join(taken, fresh []Correction) ([]Correction, []check.Finding) {
	var log check.Log
	all := slices.Clone(taken)
	for i := range fresh {
		if !slices.ContainsFunc(taken, func(c Correction) bool { return c.Same(&fresh[i]) }) {
			all = append(all, fresh[i])
		}
	}
	slices.SortStableFunc(all, func(a, b Correction) int { return compareContent(&a, &b) })
	about := map[string][]int{}
	for i := range all {
		for _, name := range all[i].about() {
			about[name] = append(about[name], i)
		}
	}
	out := make([]bool, len(all))
	for i := range all {
		told := map[int]bool{}
		for _, name := range all[i].about() {
			for _, k := range about[name] {
				if k > i && !told[k] && all[i].against(&all[k]) {
					told[k] = true
					settle(all, i, k, out, &log)
				}
			}
		}
	}
	kept := all[:0]
	for i := range all {
		if !out[i] {
			kept = append(kept, all[i])
		}
	}
	return kept, log.Findings()
}

// settle decides between two rows that contradict each other, the first no later than
// the second.
func settle(all []Correction, i, k int, out []bool, log *check.Log) {
	first, second := &all[i], &all[k]
	says := func(c *Correction) string {
		return fmt.Sprintf("another row, of %s, says %q of %s", c.Date.Format(time.DateOnly), string(c.Kind), c.names())
	}
	switch {
	case first.Date.Before(second.Date):
		if out[i] = true; first.Taken == "" {
			log.Add(first.finding(ruleSuperseded, "correction", string(first.Kind), says(second)+" later; the later row counts"))
		} else {
			log.Add(second.finding(ruleSuperseded, "correction", string(second.Kind), says(first)+"; the later row counts from now on"))
		}
	default:
		for _, pair := range [][2]int{{i, k}, {k, i}} {
			if c := &all[pair[0]]; c.Taken == "" {
				out[pair[0]] = true
				log.Add(c.finding(ruleContradict, "correction", string(c.Kind), says(&all[pair[1]])+"; the row was not applied"))
			}
		}
	}
}

// about returns the records and stands that a row names.
func (c *Correction) about() []string {
	var names []string
	if c.RecordID != "" {
		names = append(names, "record "+c.RecordID)
	}
	for _, id := range []string{c.StandID, c.OtherID} {
		if id != "" {
			names = append(names, "stand "+id)
		}
	}
	return names
}

// against says whether two rows cannot both be true.
func (c *Correction) against(o *Correction) bool {
	if c.Kind == o.Kind {
		return false
	}
	pairs := func(k Kind) bool { return k == SameStand || k == NotSameStand }
	if pairs(c.Kind) && pairs(o.Kind) {
		a, b := c.pair()
		x, y := o.pair()
		return a == x && b == y || a == y && b == x
	}
	alike, other := c, o
	if o.Kind == Misidentified {
		alike, other = o, c
	}
	if alike.Kind != Misidentified || other.Kind == NotSameStand {
		return false
	}
	if alike.RecordID != "" {
		return alike.RecordID == other.RecordID
	}
	return other.RecordID == "" && alike.StandID == other.StandID || other.OtherID == alike.StandID
}
