package mapfile

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"fmt"
	"slices"
	"time"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/drift"
	"driftreach/internal/result"
)

// piece is a stretch of the document that can be made by itself, on any
// goroutine.
type piece func(m *mapper, b *bytes.Buffer) error

// document is a KML document in the making: its pieces in order.
type document struct {
	run    *result.Run
	packed bool // in a KMZ, with images
	pieces []piece

	// of a large packed map
	inParts bool
	parts   []*mapPart
	inside  []string // names of the folders that are open
	text    string   // description of the innermost one
}

// Lengths of the pieces in features: our choice, so that a piece is about half
// a megabyte of text whatever it holds.
const (
	standsApiece  = 64
	reachesApiece = 256
	pointsApiece  = 1024
)

// pointsShown is how many survey points a map may start with before they start
// switched off: our choice, viewers draw more only slowly.
const pointsShown = 5000

func newDocument(run *result.Run, packed bool) *document {
	d := &document{run: run, packed: packed, inParts: packed && isLarge(len(run.Stands))}
	d.add(d.head)
	d.legend()
	// most viewers draw what comes later on top
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

func (d *document) add(p piece) { d.pieces = append(d.pieces, p) }

func (d *document) raw(s string) {
	d.add(func(_ *mapper, b *bytes.Buffer) error {
		_, err := b.WriteString(s)
		return err
	})
}

// marshal writes elements one a line through encoding/xml.
func marshal(b *bytes.Buffer, elements ...kml.Element) error {
	enc := xml.NewEncoder(b)
	for _, e := range elements {
		if err := e.MarshalXML(enc, xml.StartElement{}); err != nil {
			return err
		}
		if err := enc.EncodeToken(xml.CharData("\n")); err != nil {
			return err
		}
	}
	return enc.Flush()
}

// head opens the document. The order of its elements is the schema's.
func (d *document) head(_ *mapper, b *bytes.Buffer) error {
	b.WriteString(xml.Header)
	q := d.run.Quarter
	elements := []kml.Element{
		kml.Name("Stands and reach at risk, " + q.String()),
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

// open writes an element without the given end, for more to follow inside it.
func open(b *bytes.Buffer, e kml.Element, end string) error {
	if err := marshal(b, e); err != nil {
		return err
	}
	if !bytes.HasSuffix(b.Bytes(), []byte(end)) {
		panic("mapfile: an element does not end as it began")
	}
	b.Truncate(b.Len() - len(end))
	return nil
}

// lineFeed stands between elements so that a person can read the document.
type lineFeed struct{}

// MarshalXML writes a line feed.
func (lineFeed) MarshalXML(enc *xml.Encoder, _ xml.StartElement) error {
	return enc.EncodeToken(xml.CharData("\n"))
}

// inLines puts a line feed before each element and after the last.
func inLines(elements []kml.Element) []kml.Element {
	out := make([]kml.Element, 0, 2*len(elements)+1)
	for _, e := range elements {
		out = append(out, lineFeed{}, e)
	}
	return append(out, lineFeed{})
}

// mapPoints is the point table without carried columns, which may have any name.
func mapPoints(run *result.Run) result.Table {
	t := result.PointTable(run)
	t.Fields = t.Fields[:len(t.Fields)-len(run.ExtraColumns)]
	return t
}

// folder opens a folder, has it filled, and shuts it. In a large packed map a folder
// is what its parts are named for.
func (d *document) folder(name, description string, fill func()) {
	if d.inParts {
		text, parts := d.text, len(d.parts)
		d.inside, d.text = append(d.inside, name), cmp.Or(description, text)
		fill()
		d.inside, d.text = d.inside[:len(d.inside)-1], text
		if len(d.parts) > parts || description == "" {
			return
		}
		fill = func() {}
	}
	d.add(func(_ *mapper, b *bytes.Buffer) error {
		elements := []kml.Element{kml.Name(name)}
		if description != "" {
			elements = append(elements, kml.Description(description))
		}
		return open(b, kml.Folder(inLines(elements)...), "</Folder>\n")
	})
	fill()
	d.raw("</Folder>\n")
}

// features adds the given rows, n to a piece.
func (d *document) features(rows []int32, n int, where placed, add func(m *mapper, b []byte, i int) []byte) {
	if d.inParts {
		d.split(rows, n, where, add)
		return
	}
	for part := range slices.Chunk(rows, n) {
		d.add(func(m *mapper, b *bytes.Buffer) error {
			text := b.AvailableBuffer()
			for _, i := range part {
				text = add(m, text, int(i))
			}
			// a piece begins empty: what outgrew the buffer takes its place, uncopied
			*b = *bytes.NewBuffer(text)
			return nil
		})
	}
}

// where returns the indices below n that keep says yes to.
func where(n int, keep func(i int) bool) []int32 {
	var rows []int32
	for i := range n {
		if keep(i) {
			rows = append(rows, int32(i))
		}
	}
	return rows
}

func (d *document) stands() {
	t := result.StandTable(d.run)
	group := func(name, text string, in func(*result.Stand) bool) {
		rows := where(len(d.run.Stands), func(i int) bool { return in(&d.run.Stands[i]) })
		if len(rows) == 0 {
			return
		}
		d.folder(name, text, func() {
			d.features(rows, standsApiece, standsLie(d.run), func(m *mapper, b []byte, i int) []byte { return m.stand(b, t, i) })
		})
	}
	d.folder("Stands", "In treatment order: the number before the name of each that asks for treatment.", func() {
		group("Aquatic-zone stands", "", func(s *result.Stand) bool { return !s.Carried() && s.Zone.InZone })
		group("Upland stands", "", func(s *result.Stand) bool { return !s.Carried() && !s.Zone.InZone })
		group("Nobody visited", "Drawn hollow: footprint and acreage as last known, since nobody went there this quarter.", (*result.Stand).Carried)
		numbered := numbered(d.run)
		if len(numbered) > 0 {
			d.folder("Numbers", "Place in the order of treatment, of each stand that asks for it.", func() {
				d.features(numbered, standsApiece, numbersLie(d.run), func(m *mapper, b []byte, i int) []byte { return m.number(b, i) })
			})
		}
	})
}

// numbered are the stands that have their number on the map.
func numbered(run *result.Run) []int32 {
	return where(len(run.Stands), func(i int) bool { s := &run.Stands[i]; return s.AsksTreatment() && finite(s.Center) })
}

// placemarks is how many the map has.
func placemarks(run *result.Run) int {
	n := len(run.Stands) + len(numbered(run)) + len(run.Reaches) + len(run.Zones) + len(run.Notices)
	if !ManyRecords(run) {
		n += len(run.Records)
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
		name, text := "Reach at risk", result.RiskRule+" "+result.PossibleRule+" "+result.HoursRule
		if stage > 0 {
			name, text = "Reach at risk in flood", "What a flood would do: the same, in water that carries farther and runs faster, as set by drift.flood_factor and the other flood settings."
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
		d.features(rows, reachesApiece, reachesLie(d.run), func(m *mapper, b []byte, i int) []byte { return m.reach(b, t, i) })
	})
}

func (d *document) zones() {
	t := result.ZoneTable(d.run)
	d.folder("Aquatic zone", "", func() {
		all := where(len(d.run.Zones), func(int) bool { return true })
		d.features(all, 1, zonesLie(d.run), func(m *mapper, b []byte, i int) []byte { return m.zone(b, t, i) })
	})
}

func (d *document) points() {
	t := result.PointTable(d.run)
	visible := len(d.run.Records) <= pointsShown
	group := func(name string, detected bool) {
		rows := where(len(d.run.Records), func(i int) bool { return d.run.Records[i].Detected == detected })
		if len(rows) == 0 {
			return
		}
		d.folder(name, "", func() {
			d.features(rows, pointsApiece, pointsLie(d.run), func(m *mapper, b []byte, i int) []byte { return m.point(b, t, i, visible) })
		})
	}
	if ManyRecords(d.run) {
		d.folder("Survey points", fmt.Sprintf("The %d survey points are in %s: a map of more than %d opens slowly.", len(d.run.Records), PackedName(PointsFile), MostRecords), func() {})
		return
	}
	d.folder("Survey points", "", func() {
		group("Detected", true)
		group("Not detected", false)
	})
}
