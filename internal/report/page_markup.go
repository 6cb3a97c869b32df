package report

// tag is our own markup. A constant converts to it automatically, but text from other sources does not:
// only escape and the drawing code make tags from it.
type tag string

// markup collects the page. Text is added only with text, which escapes it.
type markup struct{ b []byte }

func (m *markup) raw(parts ...tag) {
	for _, p := range parts {
		m.b = append(m.b, p...)
	}
}

// text writes text, safe in an element and in an attribute's double quotes.
func (m *markup) text(s string) { m.b = append(m.b, escape(s)...) }

// element writes an element with one text.
func (m *markup) element(open tag, s string, end tag) {
	m.raw(open)
	m.text(s)
	m.raw(end)
}

// number writes a figure: the exact value for programs, and fewer digits for readers.
func (m *markup) number(n Number) {
	m.element(`<data value="`, n.Exact, `">`)
	m.element("", n.Shown, "</data>")
	if n.Unit != "" {
		m.element(" <span>", n.Unit, "</span>")
	}
}

// grid writes a table in a frame that scrolls sideways, also by keyboard, so that the page itself never
// does.
func (m *markup) grid(g Grid) {
	if len(g.Rows) == 0 && len(g.Foot) == 0 {
		return
	}
	id := tag(escape(g.ID))
	m.raw(`<div class="scroll" role="region" aria-labelledby="`, id, `-c" tabindex="0"><table id="`, id, "\">\n<caption id=\"", id, `-c"`)
	if g.Quiet {
		m.raw(` class="quiet"`)
	}
	m.raw(">")
	m.element("", g.Caption, "</caption>\n<thead><tr>")
	for _, c := range g.Head {
		m.raw(`<th scope="col"`, set(c.Numeric, false), ">")
		m.element("", c.Label, "</th>")
	}
	m.raw("</tr></thead>\n<tbody>\n")
	m.lines(g.Head, g.Rows)
	m.raw("</tbody>\n")
	if len(g.Foot) > 0 {
		m.raw("<tfoot>\n")
		m.lines(g.Head, g.Foot)
		m.raw("</tfoot>\n")
	}
	m.raw("</table></div>\n")
}

// lines writes rows whose first cell is their heading. Each cell also has the name of its column for
// narrow screens, on which a row is shown as a list of its cells.
func (m *markup) lines(heads []Column, rows []Line) {
	for _, row := range rows {
		m.raw("<tr")
		if row.Alert {
			m.raw(` class="alert"`)
		}
		m.raw(">")
		for i, c := range row.Cells {
			open, end := tag("<td"), tag("</td>")
			if i == 0 {
				open, end = `<th scope="row"`, "</th>"
			}
			m.raw(open, set(c.Numeric, c.Whole))
			if i > 0 && i < len(heads) {
				m.element(` data-label="`, heads[i].Label, `"`)
			}
			m.raw(">")
			m.cell(c)
			m.raw(end)
		}
		m.raw("</tr>\n")
	}
}

// set returns the classes for the alignment and line breaks of a cell.
func set(numeric, whole bool) tag {
	switch {
	case numeric:
		return ` class="num"`
	case whole:
		return ` class="whole"`
	}
	return ""
}

// cell writes a figure or a text. A text cannot change the writing direction of what follows it.
func (m *markup) cell(c Cell) {
	switch {
	case !c.IsText:
		m.number(c.Number)
	case c.Text != "":
		m.element("<bdi>", c.Text, "</bdi>")
	}
}

// notes writes paragraphs in small print.
func (m *markup) notes(all ...string) {
	for _, s := range all {
		if s != "" {
			m.element(`<p class="note">`, s, "</p>\n")
		}
	}
}

// bullets writes a list of sentences.
func (m *markup) bullets(all []string) {
	m.raw("<ul class=\"plain\">\n")
	for _, s := range all {
		m.element("<li>", s, "</li>\n")
	}
	m.raw("</ul>\n")
}
