package report

import "strings"

// sheets are the sections on the first and on the second sheet of paper. Sections of a group are side
// by side if there is room.
var sheets = [2][][]section{
	{
		{{"glance", "At a glance", "", writeGlance}},
		{{"map", "Map", "", writeMap}},
		{{"change", "Change since the quarter before", "Change", writeChange}, {"quarters", "Acres by quarter", "", writeQuarters}},
		{{"places", "By place", "", func(m *markup, p *Page) { m.grid(p.Places) }}},
		{
			{"plan", "Plan for the coming quarters", "Plan", func(m *markup, p *Page) { m.notes(p.Plan...) }},
			{"done", "Work done this quarter", "Work done", func(m *markup, p *Page) { m.notes(p.Done...) }},
		},
	},
	{
		{{"first", "First stands to treat", "First to treat", func(m *markup, p *Page) { m.grid(p.First); m.notes(p.FirstNotes...) }}},
		{{"next", "Where to look next", "Look next", func(m *markup, p *Page) { m.grid(p.Next); m.notes(p.NextNotes...) }}},
		{{"works", "Planned works to warn", "Works to warn", func(m *markup, p *Page) { m.grid(p.Works); m.notes(p.WorksNotes...) }}},
		{
			{"visits", "Visits due", "", func(m *markup, p *Page) { m.grid(p.Visits); m.notes(p.VisitNote) }},
			{"water", "Water use", "", writeWater},
			{"findings", "Findings about the input", "Findings", func(m *markup, p *Page) { m.notes(p.FindingsNote); m.grid(p.Findings) }},
		},
		{{"assumed", "Assumed values", "", writeAssumed}},
		{{"cautions", "Cautions", "", func(m *markup, p *Page) { m.bullets(p.Cautions) }}, {"made", "How the numbers are made", "", writeMade}},
	},
}

// page writes the whole page.
func (m *markup) page(p *Page) {
	m.raw("<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n<meta charset=\"utf-8\"/>\n",
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n")
	m.element("<title>", p.Title, "</title>\n")
	m.raw("<style>", p.Style, "</style>\n</head>\n<body>\n<a class=\"skip\" href=\"#main\">Skip to the report</a>\n<header>\n")
	m.element("<h1><bdi>", p.Title, "</bdi></h1>\n")
	for _, s := range p.Intro {
		m.element(`<p class="days"><bdi>`, s, "</bdi></p>\n")
	}
	m.contents(p)
	m.raw("</header>\n<main id=\"main\">\n")
	for i, sheet := range p.layout {
		m.raw([]tag{"<div class=\"front\">\n", "<div class=\"sheet\">\n"}[i])
		for _, group := range sheet {
			m.group(p, group)
		}
		m.raw("</div>\n")
	}
	m.raw("</main>\n<footer>\n")
	m.element("<p>", p.Foot, "</p>\n")
	m.raw("</footer>\n</body>\n</html>\n")
}

// titled returns the programme's title for a page, or the page's own, with its date.
func (p Programme) titled(own, when string) string {
	return known(clean(p.Title, longestText), own) + ", " + when
}

// intro returns the lines below a title: whose page it is, which days it covers, the program version,
// and the first caution.
func (p Programme) intro(days, version string) []string {
	lines := []string{days + "; driftreach " + clean(version, longestWord) + ". For planning: the product label, permits and local rules decide what is done."}
	if name := clean(p.Name, longestText); name != "" {
		lines = append([]string{name}, lines...)
	}
	return lines
}

// contents lists the sections.
func (m *markup) contents(p *Page) {
	m.raw("<nav aria-label=\"Sections\"><ul>\n")
	for _, sheet := range p.layout {
		for _, group := range sheet {
			for _, s := range group {
				m.raw(`<li><a href="#`, s.id, `">`)
				m.element("", known(s.short, s.title), "</a></li>\n")
			}
		}
	}
	m.raw("</ul></nav>\n")
}

func (m *markup) group(p *Page, group []section) {
	// two are also side by side on a wide screen, three only on paper
	switch len(group) {
	case 2:
		m.raw(`<div class="pair by-`, group[0].id, "\">\n")
		defer m.raw("</div>\n")
	case 3:
		m.raw("<div class=\"three\">\n")
		defer m.raw("</div>\n")
	}
	for _, s := range group {
		m.raw(`<section id="`, s.id, `" aria-labelledby="`, s.id, `-h">`, "\n", `<h2 id="`, s.id, `-h">`)
		m.element("", s.title, "</h2>\n")
		s.write(m, p)
		m.raw("</section>\n")
	}
}

func writeGlance(m *markup, p *Page) {
	m.element(`<p class="lead">`, p.Headline[0], "</p>\n")
	m.notes(p.Headline[1:]...)
	m.notes(p.Verdict...)
	m.raw("<dl class=\"tiles\">\n")
	for _, t := range p.Tiles {
		m.element("<div><dt>", t.Label, `</dt><dd class="big">`)
		m.number(t.Value)
		m.element(`</dd><dd class="small">`, t.Note, "</dd></div>\n")
	}
	m.raw("</dl>\n")
}

func writeMap(m *markup, p *Page) {
	m.raw("<div class=\"beside\">\n<figure>\n")
	for _, f := range p.Maps {
		m.raw(f.SVG, "\n")
	}
	m.raw("<figcaption>Larger marks, more infested acres; a wider line, more fragments afloat.")
	for _, s := range p.MapNotes {
		m.element(" ", s, "")
	}
	m.raw("</figcaption>\n</figure>\n<ul class=\"legend\">\n")
	m.legend(p.Legend)
	m.raw("</ul>\n</div>\n")
}

func (m *markup) legend(all []Legend) {
	for _, l := range all {
		m.raw("<li>", l.Swatch)
		m.element("<span>", l.Label, "</span></li>\n")
	}
}

func writeChange(m *markup, p *Page) {
	m.grid(p.Change.Grid)
	m.notes(p.Change.Note)
	m.raw("<div class=\"screen\">\n")
	m.notes(p.EverNote)
	m.raw("</div>\n<details><summary>All ever mapped by stage, quarter by quarter</summary>\n")
	m.grid(p.Ever)
	m.raw("</details>\n")
}

func writeQuarters(m *markup, p *Page) {
	m.raw("<figure>\n")
	for _, f := range p.Charts {
		m.raw(f.SVG, "\n")
	}
	m.element("<figcaption>One bar for each quarter; a quarter without a batch is left open. ", p.ChartNote, "</figcaption>\n</figure>\n<ul class=\"legend\">\n")
	m.legend(p.ChartLegend)
	m.raw("</ul>\n<details><summary>The figures of the chart as a table</summary>\n")
	m.grid(p.Quarters)
	m.raw("</details>\n")
}

func writeWater(m *markup, p *Page) {
	for _, s := range p.Water {
		m.element("<p>", s, "</p>\n")
	}
}

// writeAssumed writes the table and, for paper, the same as one paragraph, by section of the settings.
func writeAssumed(m *markup, p *Page) {
	m.notes(p.AssumedNote)
	m.raw("<details><summary>Every assumed value, what it means and where it comes from</summary>\n")
	m.grid(p.Assumed)
	m.raw("</details>\n<p class=\"paper\" aria-hidden=\"true\">")
	last := ""
	for i, row := range p.Assumed.Rows {
		group, name, _ := strings.Cut(row.Cells[0].Text, ".")
		switch {
		case group != last && i > 0:
			m.raw(". ")
		case i > 0:
			m.raw(", ")
		}
		if group != last {
			name, last = group+": "+name, group
		}
		m.element("", name+" "+row.Cells[1].Text, "")
	}
	m.raw("</p>\n")
}

func writeMade(m *markup, p *Page) {
	m.terms(p.Made)
	m.raw("<details><summary>Glossary of the fields</summary>\n")
	m.terms(p.Glossary)
	m.raw("</details>\n")
}

// terms writes a list of words with their meanings.
func (m *markup) terms(all []Term) {
	m.raw("<dl class=\"terms\">\n")
	for _, t := range all {
		m.element("<dt>", t.Name, "</dt>")
		m.element("<dd>", t.Text, "</dd>\n")
	}
	m.raw("</dl>\n")
}
