package report

import (
	"fmt"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
)

// changeParts are the columns of the summary into which the change is split, with their signs.
var changeParts = []struct {
	column, label, short string
	sign                 int64
}{
	{field.RestatedAcres, "Restated by new rules and corrections", "restated", 1},
	{field.ObservedChangeAcres, "Observed in stands found both times", "observed", 1},
	{field.NewAcres, "New where somebody looked before", "new", 1},
	{field.FoundAgainAcres, "Found again after it was not detected", "found again", 1},
	{field.FirstLookedAtAcres, "On ground first looked at", "first looked at", 1},
	{field.NotDetectedAcres, "Looked for and not detected", "not detected", -1},
}

// change lists the parts of the change, rounded as acres are everywhere. The digits that add up are in
// summary.csv and in each figure's value attribute.
func (c *composer) change() Change {
	s := c.summary
	if c.run.Previous == nil {
		return Change{Note: "No earlier quarter was given, so there is no change to show. Name the folder of the batch before with --previous."}
	}
	before := c.run.Previous.Quarter.String()
	g := Grid{ID: "change-table", Caption: "From the infested acres of " + before + " to those of this quarter", Quiet: true, Head: heads("Part", "#Acres")}
	line := func(label string, n Number) Line { return Line{Cells: []Cell{words(label), amount(n)}} }
	g.Rows = append(g.Rows, line("Infested in "+before, s.number(total, field.PreviousAcres)))
	for _, part := range changeParts {
		v := s.cell(total, part.column)
		v.Int *= part.sign
		g.Rows = append(g.Rows, line(part.label, Number{v.String(), plus(v), string(result.Acres)}))
	}
	g.Foot = []Line{
		line("Infested in "+c.run.Quarter.String(), s.number(total, field.InfestedAcres)),
		line("of this, carried: nobody looked", s.number(total, field.CarriedAcres)),
	}
	return Change{Note: c.carriedNote() + c.missedNote() + c.defaultsNote() + " In summary.csv, with all digits, the parts add up.", Grid: g}
}

// carriedNote says how many acres nobody surveyed; these are the same in both quarters.
func (c *composer) carriedNote() string {
	stands := 0
	for i := range c.run.Stands {
		if c.run.Stands[i].Parts.Carried > 0 {
			stands++
		}
	}
	if stands == 0 {
		return "All known stands were looked at in full."
	}
	if stands == 1 {
		return "1 stand was not looked at in full this quarter. What nobody looked at keeps its last known acres: no change, and no sign of control."
	}
	return fmt.Sprintf("%s were not looked at in full this quarter. What nobody looked at keeps its last known acres: no change, and no sign of control.", plural(stands, "stand"))
}

// missedNote says that some of the observed change may be due to plants that crews missed in one of the
// two quarters. The amount is estimated from remaining stands that lost acres, or that have acres again
// that they had before. It is blank if that is less than a tenth of the observed change, our choice.
func (c *composer) missedNote() string {
	quarter := c.run.Previous.Quarter.String()
	before, after := everRow(c.run.EverBefore, quarter, result.NoLongerFound), everRow(c.ever, c.run.Quarter.String(), result.NoLongerFound)
	if before < 0 || after < 0 {
		return ""
	}
	lost, is := c.run.EverBefore[before].Acres, c.ever[after].Acres
	more, observed := is.Float()-lost.Float(), c.summary.cell(total, field.ObservedChangeAcres).Float()
	figures := fmt.Sprintf("from %s in %s to %s", figure(lost, result.Acres).Shown, quarter, figure(is, result.Acres).Shown)
	switch {
	case more > 0 && observed < 0 && 10*more >= -observed:
		return " In stands that remain, the acres no longer found rose " + figures + ": they are gone, or were missed this quarter. They are part of the change observed."
	case more < 0 && observed > 0 && -10*more >= observed:
		return " In stands that remain, the acres no longer found fell " + figures + ": they were missed in " + quarter + ", or have grown again. They are part of the change observed."
	}
	return ""
}

// defaultsNote says where the change is partly one between measured and default patches.
func (c *composer) defaultsNote() string {
	for i := range c.run.Findings {
		if f := &c.run.Findings[i]; f.Rule.Code == lineage.RuleDefaults().Code {
			return " Caution: " + f.Message + "."
		}
	}
	return ""
}

// changeTile is the headline figure of the change.
func (c *composer) changeTile() Tile {
	if c.run.Previous == nil {
		return Tile{"Change", Number{Shown: "–"}, "the first batch of its chain"}
	}
	s := c.summary
	v := s.cell(total, field.InfestedAcres)
	v.Int -= s.cell(total, field.PreviousAcres).Int
	var parts []string
	for _, part := range changeParts {
		one := s.cell(total, part.column)
		if one.Int == 0 && part.column != field.ObservedChangeAcres {
			continue
		}
		one.Int *= part.sign
		text := plus(one) + " " + part.short
		if part.column == field.ObservedChangeAcres {
			text += " (" + plus(s.cell(total, part.column+"_p10")) + " to " + plus(s.cell(total, part.column+"_p90")) + ")"
		}
		parts = append(parts, text)
	}
	caution := ""
	if c.defaultsNote() != "" {
		caution = "; not all growth or loss, see Change"
	}
	return Tile{"Change since " + c.run.Previous.Quarter.String(), Number{v.String(), plus(v), string(result.Acres)},
		strings.Join(parts, ", ") + "; " + s.number(total, field.CarriedAcres).Shown + " carried" + caution}
}

// plus formats a change with its sign.
func plus(v result.Value) string {
	text := figure(v, result.Acres).Shown
	if v.Int > 0 {
		return "+" + text
	}
	return text
}
