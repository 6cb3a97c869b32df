package report

import (
	"fmt"
	"math"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"driftreach/internal/crew"
	"driftreach/internal/field"
	"driftreach/internal/followup"
	"driftreach/internal/result"
)

// sheet writes the sheet of one stop.
func (c *crewComposer) sheet(m *markup, i int, drawn tag) {
	s := c.shown[i]
	id := tag(fmt.Sprint("stop-", s.Number))
	m.raw(`<section class="stop" id="`, id, `" aria-labelledby="`, id, `-h">`, "\n", `<h2 id="`, id, `-h">`)
	m.element("", fmt.Sprintf("Stop %d: %s, %s", s.Number, c.text(i, field.StandID), c.run.Task(s)), "</h2>\n")
	m.element(`<p class="where">`, c.placeWords(i), "</p>\n")
	m.raw("<div class=\"two\">\n<figure>\n", drawn)
	m.raw("\n<figcaption>North is up. Cross: the place to go to, in the stand. Other stands are green. Small dots: where surveyors stood, and so got to. Roads and gates are not in the data: draw the way in.</figcaption>\n</figure>\n<div>\n")
	c.place(m, i)
	c.people(m, i)
	m.raw("</div>\n</div>\n<div class=\"two\">\n<div>\n")
	c.todo(m, i)
	m.raw("</div>\n<div>\n")
	c.safety(m)
	m.raw("</div>\n</div>\n")
	c.forms[c.treats(s)].write(m, c.text(i, field.StandID))
	m.raw("<p class=\"caution\">")
	for k, caution := range result.WorkCautions(c.run) {
		if k > 0 {
			m.raw(" ")
		}
		m.element("", caution, "")
	}
	m.raw("</p>\n</section>\n")
}

// treats says whether a stop is for control work.
func (c *crewComposer) treats(s result.Stop) bool { return strings.HasPrefix(c.run.Task(s), "treat") }

// placeWords says where a stop is and how many acres there are.
func (c *crewComposer) placeWords(i int) string {
	words := placeOf(c.stops, i)
	if acres := c.stops.cell(i, field.InfestedAcres); acres.Kind == result.Number {
		words += ", " + c.stops.number(i, field.InfestedAcres).Shown + " infested acres"
		if c.stops.cell(i, field.AquaticZone).Int != 0 {
			words += ", in the aquatic zone"
		} else {
			words += ", upland"
		}
	}
	if due := c.text(i, field.Due); due != "" {
		by := "; by "
		if c.late(c.visit(i).Due) {
			by = "; overdue since "
		}
		words += by + due
	}
	if from, to := c.text(i, "work_from"), c.text(i, "work_to"); from != "" && to != "" {
		words += "; work from " + from + " to " + to
	}
	return words + "; " + c.shown[i].Name + " on the unit"
}

func (c *crewComposer) visit(i int) *result.Visit { return &c.run.Visits[c.shown[i].Visit] }

// late says whether something was due before the end of the quarter, that is before anybody uses this
// sheet.
func (c *crewComposer) late(due time.Time) bool {
	return followup.DaysLate(due, c.run.Quarter.End()) > 0
}

// place writes the coordinates in three forms, since GPS units differ in the form they show.
func (c *crewComposer) place(m *markup, i int) {
	lon, lat := c.stops.cell(i, field.DecimalLongitude), c.stops.cell(i, field.DecimalLatitude)
	m.raw("<h3>Place to go to, WGS 84</h3>\n<dl class=\"facts\">\n")
	fact := func(name, text string) {
		m.element("<div><dt>", name, "</dt>")
		m.element("<dd>", text, "</dd></div>\n")
	}
	fact("Degrees", fmt.Sprintf("%.6f, %.6f", lat.Float(), lon.Float()))
	fact("Minutes", minutes(lat.Float(), 'N', 'S')+", "+minutes(lon.Float(), 'E', 'W'))
	if zone := c.text(i, field.UTMZone); zone != "" {
		side := "north"
		if zone[len(zone)-1] < 'N' {
			side = "south"
		}
		fact("UTM", fmt.Sprintf("zone %s (%s of the equator) %.0f E %.0f N", zone, side, c.stops.cell(i, field.UTMEasting).Float(), c.stops.cell(i, field.UTMNorthing).Float()))
	}
	m.raw("</dl>\n")
}

// minutes formats an angle in degrees and minutes with three decimals, about 2 m.
func minutes(angle float64, positive, negative rune) string {
	letter := positive
	if angle < 0 {
		letter = negative
	}
	thousandths := int64(math.Round(math.Abs(angle) * 60_000))
	return fmt.Sprintf("%d° %02d.%03d′ %c", thousandths/60_000, thousandths%60_000/1000, thousandths%1000, letter)
}

// people writes whom to ask and where to meet. Unknown details become lines to fill in.
func (c *crewComposer) people(m *markup, i int) {
	m.raw("<h3>Ask, enter, meet</h3>\n<dl class=\"facts\">\n")
	for _, f := range []struct{ name, text string }{
		{"Parcel", c.text(i, field.Parcel)}, {"Owner", strings.Join(c.texts(i, field.Owner), "; ")}, {"Permission", strings.Join(c.texts(i, field.Permission), "; ")},
		{"Gate", strings.Join(c.texts(i, field.Gate), "; ")}, {"In an emergency meet", clean(c.run.Crew.MeetingPlace, longestText)}, {"In an emergency call", clean(c.run.Crew.Emergency, longestText)},
	} {
		m.element("<div><dt>", f.name, "</dt>")
		m.line(f.text)
		m.raw("</div>\n")
	}
	m.raw("</dl>\n")
	m.notes(crew.Place)
}

// todo writes what to do and what not to do.
func (c *crewComposer) todo(m *markup, i int) {
	do := []string{c.text(i, field.What)}
	for _, due := range []time.Time{c.visit(i).Due, c.visit(i).Again} {
		if day := due.Format(time.DateOnly); c.late(due) {
			do[0] = strings.Replace(do[0], " by "+day, ", overdue since "+day, 1)
		}
	}
	var never []string
	for _, r := range c.texts(i, "requirements") {
		if strings.HasPrefix(r, "do not") || strings.HasPrefix(r, "no ") || strings.HasPrefix(r, "leave ") {
			never = append(never, r)
		} else {
			do = append(do, r)
		}
	}
	m.raw("<h3>Do</h3>\n")
	m.bullets(sentences(do))
	m.element(`<p class="note">`, "Why: "+strings.Join(c.texts(i, field.Why), "; ")+".", "</p>\n")
	m.raw("<h3>Do not</h3>\n")
	m.bullets(sentences(append(never, crew.Stay)))
}

// sentences returns the texts with a capital at the beginning.
func sentences(all []string) []string {
	out := make([]string, len(all))
	for i, s := range all {
		first, size := utf8.DecodeRuneInString(s)
		out[i] = string(unicode.ToUpper(first)) + s[size:]
	}
	return out
}

// safety writes when to stop, how to clean equipment and where to dry cane.
func (c *crewComposer) safety(m *markup) {
	m.raw("<h3>Stop</h3>\n")
	m.bullets([]string{crew.StopWind, crew.StopWater, result.FloodCaution})
	m.raw("<dl class=\"facts\"><div><dt>Limits</dt>")
	m.line(clean(c.run.Crew.StopWhen, longestText))
	m.raw("</div></dl>\n<h3>Clean and dry</h3>\n")
	m.bullets([]string{crew.Clean, crew.Dry})
	m.raw("<dl class=\"facts\"><div><dt>Cane is dried</dt>")
	m.line(clean(c.run.Crew.Drying, longestText))
	m.raw("</div></dl>\n")
}
