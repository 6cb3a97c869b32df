package report

import (
	_ "embed"
	"io"
	"slices"

	"driftreach/internal/result"
	"driftreach/internal/trend"
)

// Sources is what report.html tells beside the run's own answer.
type Sources struct {
	Version  string         // of the program
	Settings []Setting      // every setting of the batch
	History  *trend.History // the quarters up to this one, this one among them

	Programme Programme
}

// Setting is one setting as the batch used it.
type Setting struct {
	Key, Value, Unit string
	Origin           string // [P], [C] or [A]
	Meaning, Source  string
}

// Page is what report.html says, in words and figures ready to be printed. Text
// from the field stands in it as it came; writing escapes it.
type Page struct {
	Title        string
	Intro        []string // under the title
	Foot         string
	layout       [][][]section // sheets of paper, groups of sections on each
	Headline     []string      // sentences: how much there is and which way it goes, what that rests on, what is due
	Verdict      []string      // sentences: the trend, what to think of it
	Tiles        []Tile
	Change       Change
	Maps         []Figure // for wide and for narrow screens
	MapNotes     []string // what the map leaves out
	Legend       []Legend
	Charts       []Figure // likewise
	ChartNote    string
	ChartLegend  []Legend
	Quarters     Grid
	EverNote     string
	Ever         Grid // all ever mapped, by stage
	First        Grid // stands to treat
	FirstNotes   []string
	Plan         []string // what the coming quarters' budgets buy
	Visits       Grid
	VisitNote    string
	Done         []string // control work done in the quarter
	Next         Grid     // where to look next
	NextNotes    []string
	Works        Grid
	WorksNotes   []string
	Places       Grid // acreage by unit or by stream
	Water        []string
	Findings     Grid
	FindingsNote string
	Assumed      Grid
	AssumedNote  string
	Cautions     []string
	Made         []Term
	Glossary     []Term
	Style        tag
}

// Tile is one headline figure.
type Tile struct {
	Label string
	Value Number
	Note  string
}

// Term is a word and what it means.
type Term struct{ Name, Text string }

// Figure is a picture as SVG. It is ours from end to end: what comes from the
// field in it is escaped where it is drawn.
type Figure struct {
	Class string // wide or narrow
	SVG   tag
}

// Legend is one line of the map's legend.
type Legend struct {
	Swatch tag
	Label  string
}

//go:embed page.css
var pageStyle string

// WritePage writes report.html: one page that needs nothing from outside, for a
// reader who opens no map program and for two sheets of paper. It holds no
// script and is XML as well as HTML. Its figures are those of the other files,
// fewer places shown. Tables and pictures are bounded, whatever the size of the
// run: below 2 MB. Bytes depend on run and from alone.
func WritePage(w io.Writer, run *result.Run, from Sources) error {
	p := Compose(run, from)
	var m markup
	m.page(&p)
	_, err := w.Write(m.b)
	return err
}

// Compose puts together what the page says. It costs one pass over stands,
// reaches and centerlines.
func Compose(run *result.Run, from Sources) Page {
	c := composer{
		run: run, from: from,
		stands:  newSheet(run, result.StandTable(run)),
		summary: newSheet(run, result.SummaryTable(run, result.Summarize(run))),
		order:   newSheet(run, result.OrderTable(run)),
	}
	c.chosen = c.firstToTreat()
	p := Page{
		Title: from.Programme.titled("Stands and stream at risk", run.Quarter.String()), Intro: from.Programme.intro(daysOf(run.Quarter), from.Version),
		Foot:   "The files beside this page hold the same figures to the last digit: map.kmz for a map viewer, stands.csv, order.csv and summary.csv for a spreadsheet, manifest.json for how they were made.",
		layout: sheets[:], Style: tag(pageColors() + pageStyle),
	}
	p.Headline, p.Verdict = c.headline(), c.verdict()
	p.Tiles = c.tiles()
	p.Change = c.change()
	p.Maps, p.Legend, p.MapNotes = c.maps()
	p.Charts, p.ChartNote = c.charts()
	p.ChartLegend = from.Programme.chartLegend()
	p.Quarters = c.quarters()
	p.EverNote, p.Ever = c.ever()
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

// pageCautions are the cautions but for what the page says elsewhere: the assumed
// values have their table, and what stream at risk is stands with how it is made.
func pageCautions(run *result.Run) []string {
	cautions := slices.DeleteFunc(result.Cautions(run), func(s string) bool { return s == result.AssumedCaution(run) })
	if i := slices.Index(cautions, result.RiskCaution(run)); i >= 0 {
		cautions[i] = "Stream at risk says where to look, not where plants are."
	}
	return cautions
}

// composer is what the parts of the page are made from.
type composer struct {
	run     *result.Run
	from    Sources
	stands  sheet
	summary sheet
	order   sheet
	chosen  []int // rows of order: the first stands to treat
}
