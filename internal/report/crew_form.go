package report

import (
	"slices"

	"driftreach/internal/field"
	"driftreach/internal/intake"
	"driftreach/internal/result"
)

// crewForm is the part of a sheet to be filled in.
type crewForm struct {
	title  string
	role   string
	blanks []crewBlank
}

// crewBlank is one column to be filled in.
type crewBlank struct {
	intake.Blank
	label string
}

// workForm is the form for the licensed applicator: the columns of --treatments.
func workForm(run *result.Run) crewForm {
	return formOf("Entered by the licensed applicator", intake.RoleTreatments, result.TreatmentTable(run))
}

// lookForm is the form for a survey: the columns of --points.
func lookForm(run *result.Run) crewForm {
	return formOf("What was found", intake.RolePoints, result.PointTable(run))
}

// formOf takes the columns of a role, except the one that only names the row, with their labels from
// the dictionary.
func formOf(title, role string, told result.Table) crewForm {
	of, _ := intake.RoleOf(role)
	f := crewForm{title: title, role: role}
	for _, b := range of.Form() {
		if b.Name == of.Passing {
			continue
		}
		one := crewBlank{b, b.Name}
		if i := slices.IndexFunc(told.Fields, func(f result.Field) bool { return f.Name == b.Name }); i >= 0 {
			one.label = told.Fields[i].Title()
		}
		f.blanks = append(f.blanks, one)
	}
	return f
}

// write writes the form with the stand filled in.
func (f crewForm) write(m *markup, stand string) {
	m.element("<h3>", f.title, "</h3>\n")
	m.element(`<p class="note">`, "For the office: the small names are the columns of the table that driftreach reads with --"+f.role+".", "</p>\n<dl class=\"form\">\n")
	for _, b := range f.blanks {
		m.raw("<div")
		if b.Words != nil {
			m.raw(` class="wide"`)
		}
		m.element("><dt>", b.label, " ")
		m.element("<code>", b.Name, "</code></dt>")
		switch {
		case b.Name == field.StandID:
			m.element("<dd>", stand, "</dd>")
		case b.Words != nil:
			m.raw(`<dd class="choices">`)
			for _, word := range b.Words {
				m.element(`<span class="choice">`, word, "</span> ")
			}
			m.raw("</dd>")
		default:
			m.line("")
		}
		m.raw("</div>\n")
	}
	m.raw("</dl>\n")
}

// line writes a text, or a line to fill in if it is blank.
func (m *markup) line(text string) {
	if text == "" {
		m.raw(`<dd class="fill"><span class="quiet">to be filled in</span></dd>`)
		return
	}
	m.element("<dd><bdi>", text, "</bdi></dd>")
}
