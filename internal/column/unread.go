package column

import (
	"fmt"
	"slices"
	"strings"
)

// TellUnread reports, once, the columns that look like measures or words on which figures depend, by
// name and content, but were only carried, because the settings do not name them. If a patch area is
// not read, for example, every patch gets the default area. Fields that the file has under another name
// are left out.
func (c *Columns) TellUnread(tell teller, otherwise func(field string) bool) {
	var columns, lines []string
	for _, p := range c.proposals {
		if _, asked := c.mapped[p.Field]; asked || !c.decides(p.Field) || otherwise(p.Field) || c.doubtful(p.Column) || slices.ContainsFunc(c.adopted, func(u Report) bool { return u.Field == p.Field || u.Column == p.Column }) {
			continue
		}
		columns = append(columns, fmt.Sprintf("%q", p.Column))
		lines = append(lines, fmt.Sprintf("%s = %q", p.Field, p.Column))
	}
	if len(columns) == 0 {
		return
	}
	they, were := "column", "looks like a field of ours; it was carried and not read"
	if len(columns) > 1 {
		they, were = "columns", "look like fields of ours; they were carried and not read"
	}
	tell(ruleUnread, strings.Join(lines, "; "), "", fmt.Sprintf("the %s %s %s", they, strings.Join(columns, ", "), were))
}

// decides says whether figures depend on a field: a measure, or a field that takes one of a few words.
func (c *Columns) decides(field string) bool {
	at := c.fieldOf(field)
	return at >= 0 && (c.fields[at].Measured() || c.fields[at].Decides) || c.decidedByWords(field)
}
