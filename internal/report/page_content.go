package report

// Page is what report.html says, as texts and figures ready to print. Text from the field is stored as
// it was; writing escapes it.
type Page struct {
	Title        string
	Intro        []string // under the title
	Foot         string
	layout       [][][]section // sheets of paper, and the groups of sections on each
	Headline     []string      // sentences: how much there is, in which direction it changes, what this is based on, what is due
	Verdict      []string      // sentences: the trend, and how to judge it
	Tiles        []Tile
	Change       Change
	Maps         []Figure // for wide and narrow screens
	MapNotes     []string // what the map leaves out
	Legend       []Legend
	Charts       []Figure // for wide and narrow screens
	ChartNote    string
	ChartLegend  []Legend
	Quarters     Grid
	EverNote     string
	Ever         Grid // everything ever mapped, by stage
	First        Grid // stands to treat
	FirstNotes   []string
	Plan         []string // what the budgets of the coming quarters achieve
	Visits       Grid
	VisitNote    string
	Done         []string // control work done in the quarter
	Next         Grid     // where to survey next
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

// Term is a word and its meaning.
type Term struct{ Name, Text string }

// Figure is a picture as SVG. All of its markup is ours; text from the field is escaped when it is
// drawn.
type Figure struct {
	Class string // wide or narrow
	SVG   tag
}

// Legend is one line of the map's legend.
type Legend struct {
	Swatch tag
	Label  string
}

// section is one part of the page: a landmark with a heading, and an entry in the list at the top.
type section struct {
	id    tag
	title string
	short string // name in the list; blank to use the title
	write func(m *markup, p *Page)
}

// Change is what became of the acres of the previous quarter.
type Change struct {
	Note string // why there are no parts, if there are none
	Grid Grid
}
