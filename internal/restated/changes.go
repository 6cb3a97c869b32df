package restated

import "driftreach/internal/result"

// takeBack takes back what a stand added to the changes of earlier quarters, because it was a
// look-alike then too. If only a part of the stand is removed, the share of that part is not known: a
// trace is taken back, and the rest of the stand still counts.
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

// takeBackLast takes back what a stand added when it was reported as not detected, in the last quarter
// in which it added anything.
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

// changesGoTo moves a stand's earlier changes to another stand. If shared is true, both stands keep
// them, since it is not known which changes belong to which.
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

// changesOf returns the indices of a stand's changes that have not been taken back.
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
