package report

import (
	"fmt"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/result"
	"driftreach/internal/stretch"
)

// mostNext is how many stretches the page lists. Our choice: what a crew can walk in a week.
const mostNext = 5

// next returns the table of the first stretches of stream to survey, and an explanation of the list;
// none if the list was not computed.
func (c *composer) next() (Grid, []string) {
	run := c.run
	g := Grid{ID: "next-table", Caption: "The first stretches of stream to look at", Quiet: true,
		Head: heads("No.", "Stream, river km", "#To walk, km", "Last looked at", "#Fragments since then (index for each km)", "#Live stands near", "Why")}
	if run.Stretches == nil {
		return g, []string{"The list of where to look next is switched off (survey_next.write)."}
	}
	s := newSheet(run, result.SurveyNextTable(run))
	var listed, never, all float64
	for i := range run.Stretches {
		one := &run.Stretches[i]
		km := float64(one.Length.Kilometers())
		all += km
		if one.Listed {
			listed += km
		}
		if one.Last.State == stretch.Never {
			never += km
		}
		if i < mostNext {
			g.Rows = append(g.Rows, Line{Alert: one.Last.State == stretch.Never, Cells: []Cell{
				words(fmt.Sprint(i + 1)),
				words(known(clean(s.cell(i, field.WaterBody).String(), longestWord), "stream without a name") + ", " + fmt.Sprintf("%.1f to %.1f", one.FromKm, one.ToKm)),
				amount(s.number(i, field.LengthKm)), words(s.text(i, field.LookedAt)), amount(Number{Exact: s.cell(i, field.ExposureDensity).String(), Shown: fmt.Sprintf("%.3g", one.PerKm())}),
				amount(s.number(i, field.StandsNear)), words(clean(strings.Join(s.cell(i, field.Why).List, "; "), longestText)),
			}})
		}
	}
	return g, []string{fmt.Sprintf("survey_next.csv lists %s of %s km; %s km were never looked at in this chain of batches. "+
		"Part of the list is a random sample: look there too. Drift says nothing about plants that came with soil or by road.",
		grouped(listed, 1), grouped(all, 1), grouped(never, 1))}
}
