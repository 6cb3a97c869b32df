package report

import (
	"slices"

	"driftreach/internal/result"
)

// crewComposer has everything from which the crew sheets are made.
type crewComposer struct {
	run    *result.Run
	stops  sheet         // every stop
	listed []result.Stop // those to visit
	shown  []result.Stop // those with their own sheet
	forms  map[bool]crewForm
}

func newCrew(run *result.Run) *crewComposer {
	c := &crewComposer{run: run, stops: newSheet(run, result.StopTable(run)), listed: result.Listed(result.Stops(run))}
	c.shown = c.listed[:min(len(c.listed), max(0, run.Crew.MostStops))]
	c.forms = map[bool]crewForm{true: workForm(run), false: lookForm(run)}
	return c
}

func (c *crewComposer) text(i int, name string) string { return c.stops.text(i, name) }

// texts returns the items of a list, ready to print.
func (c *crewComposer) texts(i int, name string) []string {
	items := slices.Clone(c.stops.cell(i, name).List)
	for k := range items {
		items[k] = clean(items[k], longestText)
	}
	return items
}
