package column

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/format"
)

// fewestTwoValued is the number of filled cells from which a column with two values is taken for a
// choice of two. Our choice.
const fewestTwoValued = 4

// TellTwoValued reports carried columns with two values: one of them may mean that the plant was not
// found, and these rows would wrongly add acres.
func (c *Columns) TellTwoValued(tell teller) {
	found := c.fields[c.fieldOf(occurrence)]
	for i := range c.samples {
		s := &c.samples[i]
		name := c.bound[i]
		understood := slices.ContainsFunc(c.adopted, func(u Report) bool { return u.Column == name }) ||
			slices.ContainsFunc(c.proposals, func(q Proposal) bool { return q.Column == name })
		if c.extra[i] < 0 || understood {
			continue
		}
		if words := s.yesAndNo(found); len(words) > 2 || len(words) == 2 && s.filled < fewestTwoValued {
			tell(ruleTwoValued, name, "", fmt.Sprintf("the column %q says yes and no, in the words %s; it was carried and not understood", name, format.Shorten(strings.Join(words, ", "))))
			continue
		}
		if len(s.texts) != 2 || s.filled < fewestTwoValued {
			continue
		}
		a, b := 0, 1
		if s.texts[b] < s.texts[a] {
			a, b = b, a
		}
		tell(ruleTwoValued, name, "", fmt.Sprintf("the column %q has two values, %s %d times and %s %d times; it was carried and not understood",
			name, format.Shorten(s.texts[a]), s.times[a], format.Shorten(s.texts[b]), s.times[b]))
	}
}
