package report

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

// section is one part of the page: a landmark with a heading, and a line of the
// list at the top.
type section struct {
	id    tag
	title string
	short string // in the list; blank for the title
	write func(m *markup, p *Page)
}

// Change is what became of the acres of the quarter before.
type Change struct {
	Note string // why there are no parts, when there are none
	Grid Grid
}
