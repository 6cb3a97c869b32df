package mapfile

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"time"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/drift"
	"driftreach/internal/result"
)

// pointsShown is the most survey points that a map shows when it is opened; with more, they are
// switched off at first. Our choice: viewers draw more only slowly.
const pointsShown = 5000

func newDocument(run *result.Run, packed bool) *document {
	d := &document{run: run, packed: packed, inParts: packed && isLarge(len(run.Stands))}
	d.add(d.head)
	d.legend()
	// most viewers draw later features on top
	d.zones()
	d.lookNext()
	d.reaches()
	d.absent()
	d.stands()
	d.points()
	d.notices()
	d.raw("</Document>\n</kml>\n")
	return d
}

// head opens the document. The order of its elements is the schema's.
func (d *document) head(_ *mapper, b *bytes.Buffer) error {
	b.WriteString(xml.Header)
	q := d.run.Quarter
	elements := []kml.Element{
		kml.Name("Stands and stream at risk, " + q.String()),
		kml.Open(true),
		kml.Snippet("Planning aid. The product label is the law; local rules and permits decide."),
		kml.Description(mapDescription(d.run)),
		kml.TimeSpan(kml.Begin(q.Begin()), kml.End(q.End().Add(24*time.Hour-time.Second))),
	}
	elements = append(elements, mapStyles(d.run, d.packed)...)
	if d.packed {
		return open(b, kml.KML(kml.Document(inLines(elements)...)), "</Document></kml>\n")
	}
	for _, t := range []result.Table{
		result.StandTable(d.run), result.ReachTable(d.run), result.ZoneTable(d.run), mapPoints(d.run),
	} {
		elements = append(elements, schemaOf(t))
	}
	if d.run.Previous != nil {
		elements = append(elements, schemaOf(result.AbsentTable(d.run)))
	}
	if d.run.Stretches != nil {
		elements = append(elements, schemaOf(result.SurveyNextTable(d.run)))
	}
	if d.run.WorksGiven {
		elements = append(elements, schemaOf(result.NoticeTable(d.run)))
	}
	return open(b, kml.KML(kml.Document(inLines(elements)...)), "</Document></kml>\n")
}

// mapPoints is the point table without carried columns, which may have any name.
func mapPoints(run *result.Run) result.Table {
	t := result.PointTable(run)
	t.Fields = t.Fields[:len(t.Fields)-len(run.ExtraColumns)]
	return t
}

func (d *document) stands() {
	t := result.StandTable(d.run)
	group := func(name, text string, in func(*result.Stand) bool) {
		rows := where(len(d.run.Stands), func(i int) bool { return in(&d.run.Stands[i]) })
		if len(rows) == 0 {
			return
		}
		d.folder(name, text, func() {
			d.features(rows, standsApiece, standsLie(d.run), func(m *mapper, i int) kml.Element { return m.stand(t, i) })
		})
	}
	d.folder("Stands", "In treatment order: the number before the name of each that asks for treatment.", func() {
		group("Aquatic-zone stands", "", func(s *result.Stand) bool { return !s.Carried() && s.Zone.InZone })
		group("Upland stands", "", func(s *result.Stand) bool { return !s.Carried() && !s.Zone.InZone })
		group("Nobody visited", "Drawn hollow: footprint and acreage as last known, since nobody went there this quarter.", (*result.Stand).Carried)
		numbered := numbered(d.run)
		if len(numbered) > 0 {
			text := "Place in the order of treatment, of each stand that asks for it."
			if isLarge(len(d.run.Stands)) {
				text = fmt.Sprintf("Place in the order of treatment, of the first %d stands that ask for it. The name of every such stand begins with its own.", len(numbered))
			}
			d.folder("Numbers", text, func() {
				d.features(numbered, standsApiece, numbersLie(d.run), (*mapper).number)
			})
		}
	})
}

// mostNumbers is how many stands at most have their number on the map. Our choice: as many as a map
// has that is not large.
const mostNumbers = MostUnasked

// numbered returns the stands whose number is shown on the map.
func numbered(run *result.Run) []int32 {
	all := where(len(run.Stands), func(i int) bool { s := &run.Stands[i]; return s.AsksTreatment() && finite(s.Center) })
	return all[:min(len(all), mostNumbers)]
}

// placemarks is the number of placemarks of the map.
func placemarks(run *result.Run) int {
	n := len(run.Stands) + len(numbered(run)) + len(run.Reaches) + len(run.Zones) + len(run.Notices)
	if !ManyRecords(run) {
		n += run.Records.Len()
	}
	for i := range run.Stretches {
		if run.Stretches[i].Listed {
			n++
		}
	}
	if run.Previous != nil {
		n += len(run.Absent)
	}
	return n
}

func (d *document) reaches() {
	t := result.ReachTable(d.run)
	for stage := range max(1, len(d.run.Stages)) {
		name, text := "Stream at risk", result.RiskRule+" "+result.PossibleRule+" "+result.HoursRule
		if stage > 0 {
			name, text = "Stream at risk in flood", "What a flood would do: the same, in water that carries farther and runs faster, as set by drift.flood_factor and the other flood settings."
		}
		d.folder(name, text, func() {
			for _, f := range classFolders {
				d.reachClass(t, f.name, func(r *drift.Reach) bool { return r.Class == f.class && int(r.Stage) == stage })
			}
		})
	}
}

func (d *document) reachClass(t result.Table, name string, in func(*drift.Reach) bool) {
	rows := where(len(d.run.Reaches), func(i int) bool { return in(&d.run.Reaches[i]) })
	if len(rows) == 0 {
		return
	}
	d.folder(name, "", func() {
		d.features(rows, reachesApiece, reachesLie(d.run), func(m *mapper, i int) kml.Element { return m.reach(t, i) })
	})
}

func (d *document) zones() {
	t := result.ZoneTable(d.run)
	d.folder("Aquatic zone", "", func() {
		all := where(len(d.run.Zones), func(int) bool { return true })
		d.layout(all, 1, zonesLie(d.run), func(to *document, rows []int32) { to.zonePieces(rows, t) })
	})
}

func (d *document) points() {
	t := result.PointTable(d.run)
	visible, apiece := d.run.Records.Len() <= pointsShown, pointsApiece
	if d.inParts {
		apiece = briefApiece
	}
	group := func(name string, detected bool) {
		rows := where(d.run.Records.Len(), func(i int) bool { return d.run.Records.At(i).Detected == detected })
		if len(rows) == 0 {
			return
		}
		d.folder(name, "", func() {
			d.features(rows, apiece, pointsLie(d.run), func(m *mapper, i int) kml.Element { return m.point(t, i, visible) })
		})
	}
	if ManyRecords(d.run) {
		d.folder("Survey points", fmt.Sprintf("The %d survey points are in %s: a map of more than %d opens slowly.", d.run.Records.Len(), PackedName(PointsFile), MostRecords), func() {})
		return
	}
	d.folder("Survey points", "", func() {
		group("Detected", true)
		group("Not detected", false)
	})
}

// mapDescription returns the balloon of the whole map: the batch's totals, the
// legend and the cautions.
func mapDescription(run *result.Run) string {
	sums := result.SummaryTable(run, result.Summarize(run)[:1])
	var row []result.Value
	row = sums.Row(run, 0, row)
	return "<h3>Totals</h3>" + balloonTable(sums, row) +
		"<h3>Legend</h3>" + legendTable(shownLooks(run)) +
		"<h3>Cautions</h3>" + cautionList(run)
}
