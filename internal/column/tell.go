package column

import (
	"fmt"
	"strings"

	"driftreach/internal/check"
)

// teller takes a finding about the file as a whole.
type teller = func(rule check.Rule, field, value, message string)

// Tell reports columns that were read by a guess, and columns that the settings name but the file does
// not have.
func (c *Columns) Tell(tell teller) {
	c.tellMixedUnits(tell)
	c.tellShares(tell)
	c.tellTinyAreas(tell)
	for _, d := range c.doubts {
		tell(ruleCut, d.column, "", fmt.Sprintf("the name %s is cut to ten letters and may be %s; the column was carried through and not understood", d.column, strings.Join(d.fields, " or ")))
	}
	for _, u := range c.unitsByName() {
		field := c.fields[u.field].Name
		tell(ruleUnitByName, field, u.name, fmt.Sprintf("the settings name no unit of the column %q; its name says %s, and its numbers were read so", u.name, u.unit))
	}
	for _, field := range c.lost() {
		theirs := strings.Join(c.mapped[field], ", ")
		tell(ruleNoColumn, field, theirs, fmt.Sprintf("the settings name the column %q for %s; the file has none of that name", theirs, field))
	}
}

// tellMixedUnits reports columns in which only some cells give a unit, if neither the settings nor the
// column name give the unit of the others.
func (c *Columns) tellMixedUnits(tell teller) {
	for i, s := range c.said {
		field := c.fields[i]
		unit, measured := field.Unit()
		if s.named == 0 || s.plain == 0 || !measured || c.mapping.unit(field.Name) != "" {
			continue
		}
		for _, column := range c.columns[i] {
			if column.rank < ours && !field.UnitSaid(column.name) {
				have := "have"
				if s.named == 1 {
					have = "has"
				}
				tell(ruleUnitMixed, field.Name, column.name, fmt.Sprintf("%d of the %d numbers in the column %q %s a unit; the others were read in %s", s.named, s.named+s.plain, column.name, have, unit))
				break
			}
		}
	}
}
