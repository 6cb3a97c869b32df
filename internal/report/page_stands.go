package report

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/result"
)

// Most rows of each table. Our choice: what fits on two sheets; the files have all rows.
const (
	mostFirst  = 8
	mostBeside = 3 // first stands, if the page also has a plan
	mostVisits = 5
	mostWorks  = 5
	mostPlaces = 8
	mostRules  = 6
)

// firstToTreat returns the first few rows of the order's table that need treatment.
func (c *composer) firstToTreat() []int {
	var rows []int
	most := mostFirst
	if c.run.Plan != nil {
		most = mostBeside
	}
	for i := range c.run.Steps {
		if c.run.Steps[i].Treat && len(rows) < most {
			rows = append(rows, i)
		}
	}
	return rows
}

// first returns the table of the first stands to treat, with reasons. What work on all of them requires
// is said once, below the table.
func (c *composer) first() (Grid, []string) {
	g := Grid{ID: "first-table", Caption: "The first stands to treat, upstream first, with their numbers on the map", Quiet: true,
		Head: heads("No.", "Stand", "Where", "Status", "#Infested, acres", "#Stream at risk, km", "Why", "#Exposure gone, %")}
	common := c.common()
	for n, row := range c.chosen {
		i := int(c.run.Steps[row].Stand)
		own := slices.DeleteFunc(slices.Clone(c.run.Stands[i].Advice.Requirements), func(s string) bool { return slices.Contains(common, s) })
		g.Rows = append(g.Rows, Line{Cells: []Cell{
			words(fmt.Sprint(n + 1)), whole(c.stands.text(i, field.StandID)), words(c.where(i)), words(c.status(i)),
			amount(c.stands.number(i, field.InfestedAcres)), numericWords(c.reach(i)), words(strings.Join(append([]string{c.why(i)}, own...), "; ")),
			amount(c.order.number(row, field.ExposureRemovedPercent)),
		}})
	}
	return g, c.firstNotes(common)
}

// common returns the requirements that all of the chosen stands share.
func (c *composer) common() []string {
	var all []string
	for n, row := range c.chosen {
		own := c.run.Stands[c.run.Steps[row].Stand].Advice.Requirements
		if n == 0 {
			all = slices.Clone(own)
		}
		all = slices.DeleteFunc(all, func(s string) bool { return !slices.Contains(own, s) })
	}
	return all
}

// firstNotes give the totals for the first stands.
func (c *composer) firstNotes(common []string) []string {
	asked := 0
	for i := range c.run.Steps {
		if c.run.Steps[i].Treat {
			asked++
		}
	}
	if len(c.run.Stands) == 0 {
		return []string{"No stand is on the map, so none asks for treatment."}
	}
	if asked == 0 {
		return []string{"No stand asks for treatment: all are treated or standing dead. Look at them again."}
	}
	var notes []string
	if len(common) > 0 {
		notes = append(notes, "For work on all of these: "+strings.Join(common, "; ")+".")
	}
	last := c.chosen[len(c.chosen)-1]
	note := fmt.Sprintf("%s treatment in all; order.csv lists them.", asks(asked))
	if share := c.order.cell(last, field.ExposureRemovedPercent); share.Kind == result.Number {
		note += fmt.Sprintf(" Treating these, %s acres, takes away %s %% of all exposure.",
			c.order.number(last, field.AcresTreated).Shown, c.order.number(last, field.ExposureRemovedPercent).Shown)
	}
	notes = append(notes, note+" No stand comes before one whose fragments reach it.")
	if c.run.WaterWork == nil {
		return notes
	}
	return append(notes, c.atWater())
}

// atWater says how much work at the water is to be done, for permit applications.
func (c *composer) atWater() string {
	t := result.ProposedAtWater(c.run)
	return fmt.Sprintf("At the water: %s, %s acres, %s of them in the zone, along %s miles of bank (%s feet). water_work.csv has this by unit and stream, with the work done by month. "+
		"The jurisdiction says when an application is due, and on which form. No product, rate or dose is proposed.",
		plural(t.Areas, "treatment area"), grouped(t.Acres, 2), grouped(t.Zone, 2), grouped(t.BankMiles, 2), grouped(t.BankFeet, 0))
}

func asks(n int) string {
	if n == 1 {
		return "1 stand asks for"
	}
	return plural(n, "stand") + " ask for"
}

// where says on which stream a stand is, where along it, and whether it is in the aquatic zone.
func (c *composer) where(i int) string {
	if c.stands.cell(i, field.AquaticZone).Int != 0 {
		return placeOf(c.stands, i) + ", in the zone"
	}
	return placeOf(c.stands, i) + ", upland"
}

// reach formats a stand's reach with its range.
func (c *composer) reach(i int) string {
	text := c.stands.number(i, field.ReachKm).Shown
	if c.run.Draws > 0 {
		text += " (" + band(c.run.Stands[i].ReachBand) + ")"
	}
	return text
}

// why says in words how a stand affects the stream below it.
func (c *composer) why(i int) string {
	if c.stands.cell(i, field.ReachKm).Int == 0 {
		return "releases nothing into the stream now"
	}
	text := "reaches no other stand"
	if n := len(c.run.Stands[i].Drift.Reached); n > 0 {
		text = "reaches " + plural(n, "stand")
	}
	if alone := c.stands.cell(i, field.ReachAloneKm); alone.Int > 0 {
		text += "; " + c.stands.number(i, field.ReachAloneKm).Shown + " km from it alone"
	}
	return text
}

// statusWords returns a status in words.
func statusWords(s string) string { return strings.ReplaceAll(s, "_", " ") }

// status returns a stand's status, and since when nobody has surveyed it.
func (c *composer) status(i int) string {
	text := statusWords(c.stands.text(i, field.ManagementStatus))
	if c.run.Stands[i].Carried() {
		text += "; not looked at since " + c.run.Stands[i].CarriedFrom.String()
	}
	return text
}
