package report

import (
	_ "embed"
	"io"
	"slices"

	"driftreach/internal/result"
)

//go:embed page.css
var pageStyle string

// WritePage writes report.html: one page that needs nothing from a network, for readers without a map
// program and for two sheets of paper. It contains no script and is XML as well as HTML. Its figures
// are those of the other files, with fewer digits. Tables and pictures are limited for any size of run:
// the page is below 2 MB. The bytes depend only on run and from.
func WritePage(w io.Writer, run *result.Run, from Sources) error {
	p := Compose(run, from)
	var m markup
	m.page(&p)
	_, err := w.Write(m.b)
	return err
}

// Compose puts together what the page says. It takes one pass over stands, reaches and centerlines.
func Compose(run *result.Run, from Sources) Page {
	c := composer{
		run: run, from: from,
		stands:  newSheet(run, result.StandTable(run)),
		summary: newSheet(run, result.SummaryTable(run, result.Summarize(run))),
		order:   newSheet(run, result.OrderTable(run)),
		ever:    result.EverMapped(run),
	}
	c.chosen = c.firstToTreat()
	p := Page{
		Title: from.Programme.titled("Stands and stream at risk", run.Quarter.String()), Intro: from.Programme.intro(daysOf(run.Quarter), from.Version),
		Foot:   "The files beside this page hold the same figures to the last digit: map.kmz for a map viewer, stands.csv, order.csv and summary.csv for a spreadsheet, manifest.json for how they were made.",
		layout: sheets[:], Style: tag(pageColors() + pageStyle),
	}
	if public := result.PublicCaution(run); public != "" {
		p.Intro = append(p.Intro, public)
	}
	p.Headline, p.Verdict = c.headline(), c.verdict()
	p.Tiles = c.tiles()
	p.Change = c.change()
	p.Maps, p.Legend, p.MapNotes = c.maps()
	p.Charts, p.ChartNote = c.charts()
	p.ChartLegend = from.Programme.chartLegend()
	p.Quarters = c.quarters()
	p.EverNote, p.Ever = c.everMapped()
	p.First, p.FirstNotes = c.first()
	p.Plan = c.plan()
	p.Visits, p.VisitNote = c.visits()
	p.Done = c.done()
	p.Next, p.NextNotes = c.next()
	p.Works, p.WorksNotes = c.works()
	p.Places = c.places()
	p.Water = c.water()
	p.Findings, p.FindingsNote = c.findings()
	p.Assumed, p.AssumedNote = c.assumed()
	p.Cautions = pageCautions(run)
	p.Made = c.made()
	p.Glossary = glossary(c.summary.table, c.stands.table)
	return p
}

// pageCautions returns the cautions that the page does not give elsewhere: the assumed values have a
// table, and stream at risk is explained with how it is computed.
func pageCautions(run *result.Run) []string {
	cautions := slices.DeleteFunc(result.Cautions(run), func(s string) bool { return s == result.AssumedCaution(run) || s == result.PublicCaution(run) })
	if i := slices.Index(cautions, result.RiskCaution(run)); i >= 0 {
		cautions[i] = "Stream at risk says where to look, not where plants are."
	}
	return cautions
}
