package report

import "io"

// AnswerPage is a page of questions and answers about a chain of batches, as texts and figures ready to
// print. Writing the page escapes its texts.
type AnswerPage struct {
	Title, Days, Version string
	Lead                 []string // sentences
	Parts                []AnswerPart
	Cautions             []string
}

// AnswerPart is one question with its answer.
type AnswerPart struct {
	ID       string // letters only
	Title    string
	Verdict  string   // the answer, in one or two sentences
	Text     []string // the basis of the answer
	Pictures []Picture
	Tables   []Grid
	Assumed  []string // the assumptions of the answer
}

// WriteAnswers writes the page. It needs nothing from a network, contains no script, and is XML as well
// as HTML. The size of its pictures is limited by what can be seen.
func WriteAnswers(w io.Writer, p *AnswerPage) error {
	var m markup
	m.raw("<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n<meta charset=\"utf-8\"/>\n",
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n")
	m.element("<title>", p.Title, "</title>\n")
	m.raw("<style>", tag(pageColors()+pageStyle), answerStyle, "</style>\n</head>\n<body>\n<a class=\"skip\" href=\"#main\">Skip to the answers</a>\n<header>\n")
	m.element("<h1>", p.Title, "</h1>\n")
	m.element(`<p class="days">`, p.Days+"; driftreach "+p.Version+".", "</p>\n")
	m.raw("<nav aria-label=\"Sections\"><ul>\n")
	for _, part := range p.Parts {
		m.raw(`<li><a href="#`, tag(escape(part.ID)), `">`)
		m.element("", part.Title, "</a></li>\n")
	}
	m.raw("</ul></nav>\n</header>\n<main id=\"main\">\n")
	for _, s := range p.Lead {
		m.element("<p>", s, "</p>\n")
	}
	for i := range p.Parts {
		m.answer(&p.Parts[i])
	}
	m.raw("<section id=\"cautions\" aria-labelledby=\"cautions-h\">\n<h2 id=\"cautions-h\">Cautions</h2>\n")
	m.bullets(p.Cautions)
	m.raw("</section>\n</main>\n</body>\n</html>\n")
	_, err := w.Write(m.b)
	return err
}

// answerStyle is the style of this page in addition to the report's.
const answerStyle tag = `
.dashed{stroke:var(--soft);stroke-width:1.5px;stroke-dasharray:4 4;fill:none}
.curve{stroke:var(--bar);stroke-width:2.5px;fill:none;stroke-linejoin:round}
.hit{fill:var(--live);stroke:var(--panel);stroke-width:1.5px}
.miss{fill:var(--panel);stroke:var(--ink);stroke-width:2.5px}
svg.chart .water{stroke-width:1px}svg.chart .risk.low{stroke-width:1.6px}svg.chart .risk.moderate{stroke-width:2.4px}svg.chart .risk.high{stroke-width:3.4px}
.pictures{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(22rem,100%),1fr));gap:.5rem 1.5rem;max-width:60rem}
`

// answer writes one question.
func (m *markup) answer(p *AnswerPart) {
	id := tag(escape(p.ID))
	m.raw(`<section id="`, id, `" aria-labelledby="`, id, `-h">`, "\n", `<h2 id="`, id, `-h">`)
	m.element("", p.Title, "</h2>\n")
	m.element(`<p class="lead">`, p.Verdict, "</p>\n")
	for _, s := range p.Text {
		m.element("<p>", s, "</p>\n")
	}
	if len(p.Pictures) > 0 {
		m.raw("<div class=\"pictures\">\n")
		for i := range p.Pictures {
			m.raw("<figure>", p.Pictures[i].draw(p.ID, i))
			m.element("<figcaption>", p.Pictures[i].Caption, "</figcaption></figure>\n")
		}
		m.raw("</div>\n")
	}
	for _, g := range p.Tables {
		m.grid(g)
	}
	m.notes(p.Assumed...)
	m.raw("</section>\n")
}

// AnswerGrid makes a table of texts. Labels that begin with # are for columns of figures.
func AnswerGrid(id, caption string, labels []string, rows [][]string) Grid {
	g := Grid{ID: id, Caption: caption, Head: heads(labels...)}
	for _, row := range rows {
		var line Line
		for i, text := range row {
			line.Cells = append(line.Cells, Cell{Text: text, IsText: true, Numeric: g.Head[i].Numeric})
		}
		g.Rows = append(g.Rows, line)
	}
	return g
}
