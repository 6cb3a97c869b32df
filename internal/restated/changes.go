package restated

import "driftreach/internal/result"

// takeBack takes back what a stand counted among the changes of earlier quarters: it was
// a look-alike then, too. Of one that only a part is taken out of, the part's share is
// not known: a trace is taken back, and what is left of the stand counts on.
func (c *corrector) takeBack(id string, whole bool) {
	for _, at := range c.changesOf(id) {
		if row := &c.before.LookChanges[at]; whole {
			row.TakenBack = c.in.Quarter
		} else {
			row.Shared = true
			trace := row.Trace()
			trace.TakenBack = c.in.Quarter
			c.addChange(trace)
		}
	}
}

// takeBackLast takes back what a stand counted when it was told not detected: in the
// last quarter in which it counted anything.
func (c *corrector) takeBackLast(id string) {
	var last []int
	for _, at := range c.changesOf(id) {
		if len(last) > 0 {
			switch was, is := c.before.LookChanges[last[0]].Quarter, c.before.LookChanges[at].Quarter; {
			case is.Begin().Before(was.Begin()):
				continue
			case is != was:
				last = last[:0]
			}
		}
		last = append(last, at)
	}
	for _, at := range last {
		c.before.LookChanges[at].TakenBack = c.in.Quarter
	}
}

// changesGoTo hands a stand's earlier changes to another; shared leaves each with both, since it is
// not known which stand had which.
func (c *corrector) changesGoTo(from, to string, shared bool) {
	for _, at := range c.changesOf(from) {
		row := &c.before.LookChanges[at]
		if !shared {
			row.StandID = to
			c.changes[to] = append(c.changes[to], at)
			continue
		}
		row.Shared = true
		trace := row.Trace()
		trace.StandID = to
		c.addChange(trace)
	}
}

// changesOf returns the places of a stand's changes that count.
func (c *corrector) changesOf(id string) []int {
	if c.changes == nil {
		c.changes = map[string][]int{}
		for i := range c.before.LookChanges {
			id := c.before.LookChanges[i].StandID
			c.changes[id] = append(c.changes[id], i)
		}
	}
	var at []int
	for _, i := range c.changes[id] {
		if row := &c.before.LookChanges[i]; row.StandID == id && row.TakenBack.IsZero() {
			at = append(at, i)
		}
	}
	return at
}

func (c *corrector) addChange(row result.LookChange) {
	c.changes[row.StandID] = append(c.changes[row.StandID], len(c.before.LookChanges))
	c.before.LookChanges = append(c.before.LookChanges, row)
}
