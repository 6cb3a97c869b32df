package intake

import (
	"fmt"
	"strings"
)

// RolesMarkdown returns the table of every kind of input for the reference.
func RolesMarkdown() string {
	var b strings.Builder
	b.WriteString("| flag | what | columns | of these in a unit of its own, or dates in an order, with `[units.NAME]` | words mapped with `[values.COLUMN]` |\n|---|---|---|---|---|\n")
	for _, r := range Roles() {
		flag := "`--" + r.Name + "`"
		if r.Many {
			flag += ", repeatable"
		}
		var inUnits []string
		for _, f := range r.fields {
			if f.In.Of != 0 || f.AsWritten {
				inUnits = append(inUnits, f.Name)
			}
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", flag, r.Is, quoted(r.Fields()), quoted(inUnits), quoted(r.Worded()))
	}
	return b.String()
}

// quoted lists names as code.
func quoted(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return "`" + strings.Join(names, "`, `") + "`"
}
