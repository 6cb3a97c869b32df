package report

import (
	_ "embed"
	"fmt"
	"io"

	"driftreach/internal/result"
)

//go:embed crew.css
var crewStyle string

// WriteCrew writes crew.html: a list of the stops, and a printed sheet for each (A4 or Letter), up to
// crew.most_stops of them. It needs nothing from a network and contains no script. Unknown details
// become lines to fill in by hand, as does what the licensed applicator enters; those fields are the
// columns of --treatments. Text from the field is escaped. The bytes depend only on run.
func WriteCrew(w io.Writer, run *result.Run) error {
	c := newCrew(run)
	var m markup
	m.raw("<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n<meta charset=\"utf-8\"/>\n",
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n")
	title := "Crew sheets, " + run.Quarter.String()
	m.element("<title>", title, "</title>\n")
	m.raw("<style>", tag(pageColors()+pageStyle+crewStyle), "</style>\n</head>\n<body class=\"crew\">\n<a class=\"skip\" href=\"#main\">Skip to the stops</a>\n<header>\n")
	m.element("<h1>", title, "</h1>\n")
	if name := clean(run.Crew.Programme, longestText); name != "" {
		m.element(`<p class="days"><bdi>`, name, "</bdi></p>\n")
	}
	m.notes(c.counted())
	m.raw("</header>\n<main id=\"main\">\n<section id=\"list\" aria-labelledby=\"list-h\">\n<h2 id=\"list-h\">Stops</h2>\n")
	m.grid(c.list())
	m.raw("<h2>Cautions</h2>\n")
	m.bullets(result.CrewCautions(run))
	m.raw("</section>\n")
	maps := c.maps()
	for i := range c.shown {
		c.sheet(&m, i, maps[i])
	}
	m.raw("</main>\n</body>\n</html>\n")
	_, err := w.Write(m.b)
	return err
}

// CrewSheets is the number of stops with a sheet in crew.html.
func CrewSheets(run *result.Run) int { return len(newCrew(run).shown) }

// counted says how many stops there are, and how many of them have no sheet.
func (c *crewComposer) counted() string {
	switch {
	case len(c.listed) == 0:
		return "No stop: nothing asks for treatment, and no visit is due by the end of the next quarter."
	case len(c.shown) < len(c.listed):
		return fmt.Sprintf("The first %d of %s, in the order in which the crew goes (crew.most_stops); crew.gpx and crew.gpkg have all.", len(c.shown), plural(len(c.listed), "stop"))
	}
	return plural(len(c.listed), "stop") + ", in the order in which the crew goes. crew.gpx has them for units, crew.gpkg has forms for telephones."
}

// list returns the table of the stops with a sheet.
func (c *crewComposer) list() Grid {
	g := Grid{ID: "stops-table", Caption: "Stops in the order in which the crew goes", Quiet: true, Head: heads("#Stop", "On the unit", "Stand", "Task", "Where", "By")}
	for i, s := range c.shown {
		by := whole(c.text(i, "due"))
		if c.late(c.visit(i).Due) {
			by = words(c.text(i, "due") + ", overdue")
		}
		g.Rows = append(g.Rows, Line{Cells: []Cell{
			numericWords(fmt.Sprint(s.Number)), whole(s.Name), whole(c.text(i, "stand_id")), words(c.text(i, "task")), words(placeOf(c.stops, i)), by,
		}})
	}
	return g
}
