package mapfile

import (
	"io"
	"slices"
	"strconv"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/field"
	"driftreach/internal/result"
	"driftreach/internal/stretch"
)

// surveyNextFiles returns the deliverables for where to survey next, if it was computed.
func surveyNextFiles(with Extras) []Deliverable {
	if !with.SurveyNext {
		return nil
	}
	rows := func(r *result.Run) int { return len(r.Stretches) }
	return []Deliverable{
		OneFile("survey_next.csv", "where to look next, in order", rows, alone(writeSurveyNextCSV)),
		packable(with.Packed, NextFile, "the same on the map", rows, writeSurveyNext),
	}
}

// writeSurveyNextCSV writes survey_next.csv, one row for each stretch of stream, in the order in which
// to survey.
func writeSurveyNextCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.SurveyNextTable(run))
}

// behindList are the properties of stretches that are not on the list: those that a map needs to draw
// them. survey_next.csv has all properties of every stretch.
var behindList = []string{field.Name, field.SurveyOrder, field.Listed, field.LookedAt, field.StretchID, field.ExposureDensity}

// writeSurveyNext writes survey_next.geojson: one feature for each stretch, with what the next batch
// needs to know about it.
func writeSurveyNext(w io.Writer, run *result.Run) error {
	c := newCollection(w, run, result.SurveyNextTable(run))
	c.shorten(func(i int) bool { return !run.Stretches[i].Listed }, behindList)
	var cells []stretch.Cell
	return c.write(
		func(b []byte, i int) []byte {
			s := &run.Stretches[i]
			cells = s.AppendCells(cells[:0])
			return appendBanks(appendString(b, s.ID), cells)
		},
		func(c *collection, b []byte, i int) []byte { return c.line(b, run.Stretches[i].Line()) })
}

// looksDigits is the number of digits of exposure that are kept for the next batch. Our choice: after
// adding a thousand quarters, six are still accurate.
const looksDigits = 9

// appendBanks appends when each part of a stretch was last surveyed, and the exposure per kilometre
// since. It writes an array for the left bank and one for the right, with equal parts in downstream
// order; if the banks are equal, it writes only one. In an array, a quarter precedes the figures of the
// consecutive parts last surveyed in it. If it has a mark, the date of the last survey is not known,
// and the quarter is the first one counted: "-" means that the bank was never surveyed, "?" that it was
// surveyed in an unknown quarter.
func appendBanks(b []byte, cells []stretch.Cell) []byte {
	same := func(c stretch.Cell) bool { return c.Banks[0] == c.Banks[1] }
	b = append(b, `,"banks":[`...)
	b = appendBank(b, cells, 0)
	if slices.ContainsFunc(cells, func(c stretch.Cell) bool { return !same(c) }) {
		b = appendBank(append(b, ','), cells, 1)
	}
	return append(b, ']')
}

func appendBank(b []byte, cells []stretch.Cell, side int) []byte {
	b = append(b, '[')
	for i := range cells {
		bank := &cells[i].Banks[side]
		if i == 0 || bank.Last != cells[i-1].Banks[side].Last {
			b = append(append(append(comma(b, i), '"'), bank.Last.String()...), `",`...)
		} else {
			b = append(b, ',')
		}
		b = strconv.AppendFloat(b, float64(bank.Exposure), 'g', looksDigits, 64)
	}
	return append(b, ']')
}

// lookNext adds the folder of the stretches on the list.
func (d *document) lookNext() {
	if d.run.Stretches == nil {
		return
	}
	t := result.SurveyNextTable(d.run)
	group := func(name string, never bool) {
		rows := where(len(d.run.Stretches), func(i int) bool {
			s := &d.run.Stretches[i]
			return s.Listed && (s.Last.State == stretch.Never) == never
		})
		if len(rows) == 0 {
			return
		}
		d.folder(name, "", func() {
			d.features(rows, reachesApiece, stretchesLie(d.run), func(m *mapper, i int) kml.Element { return m.stretch(t, i) })
		})
	}
	d.folder("Where to look next", "Stretches of stream on the list, in their order: the number before each name. survey_next.csv has the rest.", func() {
		group("Never looked at, or most of it", true)
		group("Looked at before", false)
	})
}

// stretch returns the placemark of stretch i, with a name such as "3. Alder Creek, km 2.00 to 1.20".
func (m *mapper) stretch(t result.Table, i int) kml.Element {
	s := &m.run.Stretches[i]
	m.name = m.run.AppendStretchName(m.name[:0], i)
	path := lines(s.Line())
	m.surround(nil, path)
	return m.feature(t, i, nextLook(s.Last.State == stretch.Never).id, m.lines(path))
}
