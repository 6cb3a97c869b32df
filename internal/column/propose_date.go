package column

import (
	"slices"
	"strings"
)

// otherDates are parts of names of columns whose dates are not of the visit but of the row, or
// of what is planned: common practice of databases and field apps.
var otherDates = []string{"edit", "modif", "updat", "upload", "export", "sync", "print", "due", "next", "expir", "until"}

// proposeDate returns a mapping for the one column of dates whose name nobody knows, such as
// "when", where just one field of dates has no column yet. With two such columns, or two such
// fields, it returns none: nothing tells which is which.
func (c *Columns) proposeDate(proposals []Proposal) []Proposal {
	without := func(k Recognised) bool {
		at := c.fieldOf(k.field)
		return k.content != Dates || at < 0 || c.Has(at) || slices.ContainsFunc(proposals, func(p Proposal) bool { return p.Field == k.field })
	}
	fields := slices.DeleteFunc(slices.Clone(c.recognised), without)
	var found []Proposal
	for i, theirs := range c.bound {
		holds := func(part string) bool { return strings.Contains(strings.ToLower(theirs), part) }
		if c.extra[i] < 0 || i >= len(c.samples) || slices.ContainsFunc(otherDates, holds) || slices.ContainsFunc(proposals, func(p Proposal) bool { return p.Column == theirs }) {
			continue
		}
		if order, ok := c.samples[i].days(); ok {
			found = append(found, Proposal{Column: theirs, Unit: order})
		}
	}
	if len(fields) != 1 || len(found) != 1 {
		return nil
	}
	found[0].Field = fields[0].field
	return found
}
