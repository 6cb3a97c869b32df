package mapfile

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// lightFile is the map for viewers that accept only few features.
const lightFile = "map_light.kmz"

const (
	// fewFeatures is the number of features that such viewers accept: common practice.
	fewFeatures = 1000
	// lightStands is how many of them are stands. Our choice: it leaves room for the stream at risk,
	// one feature for each class.
	lightStands = 900
)

// NeedsLight says whether a run's map has more features than such viewers take.
func NeedsLight(run *result.Run) bool { return placemarks(run) >= fewFeatures }

// writeLightKMZ writes map_light.kmz: the first stands in treatment order as points, and the stream at
// risk as one feature for each class. Areas, records, zone and flood are only in map.kmz, and the map
// says so.
func writeLightKMZ(w io.Writer, run *result.Run) error {
	d := &document{run: run, packed: true}
	shown := lightStandsOf(run)
	d.add(func(_ *mapper, b *bytes.Buffer) error {
		b.WriteString(xml.Header)
		said := fmt.Sprintf("<p>The first %d of %d stands in the order of treatment as points, and the stream at risk by class. map.kmz has the rest.</p>", len(shown), len(run.Stands))
		elements := []kml.Element{
			kml.Name("Stands and stream at risk, " + run.Quarter.String() + ", light"), kml.Open(true),
			kml.Description(said + mapDescription(run)),
		}
		return open(b, kml.KML(kml.Document(inLines(append(elements, mapStyles(run, true)...))...)), "</Document></kml>\n")
	})
	d.folder("Stream at risk", result.RiskRule, func() {
		for i := range classFolders {
			d.add(func(m *mapper, b *bytes.Buffer) error {
				return marshal(spilling{b, m.spill}, m.classOfStream(i)...)
			})
		}
	})
	d.folder("Stands", "In the order of treatment.", func() {
		d.features(shown, standsApiece, numbersLie(run), (*mapper).standSpot)
	})
	d.raw("</Document>\n</kml>\n")
	z := zip.NewWriter(w)
	if err := packDocument(z, "doc.kml", d, 1); err != nil {
		return err
	}
	if err := storeIcons(z); err != nil {
		return err
	}
	return z.Close()
}

// lightStandsOf returns the stands to show: those that need treatment come first, in treatment order.
func lightStandsOf(run *result.Run) []int32 {
	asks := func(yes bool) []int32 {
		return where(len(run.Stands), func(i int) bool { s := &run.Stands[i]; return s.AsksTreatment() == yes && finite(s.Center) })
	}
	all := append(asks(true), asks(false)...)
	return all[:min(len(all), lightStands)]
}

// lightFeatures is the number of features of the light map.
func lightFeatures(run *result.Run) int {
	n := len(lightStandsOf(run))
	for i := range classFolders {
		if len(streamOfClass(run, i)) > 0 {
			n++
		}
	}
	return n
}

// streamOfClass returns the pieces of a class at the first water stage.
func streamOfClass(run *result.Run, class int) []int32 {
	return where(len(run.Reaches), func(i int) bool { r := &run.Reaches[i]; return r.Stage == 0 && r.Class == classFolders[class].class })
}

// classOfStream returns all stream of a class as one placemark; nothing if there is none.
func (m *mapper) classOfStream(class int) []kml.Element {
	pieces := streamOfClass(m.run, class)
	if len(pieces) == 0 {
		return nil
	}
	look, paths := reachLook(classFolders[class].class), kml.MultiGeometry()
	for _, i := range pieces {
		paths.Append(m.lines(lines(m.run.Reaches[i].Path))...)
	}
	return []kml.Element{kml.Placemark(kml.Name(look.label), styleOf(look.id), paths)}
}

// standSpot returns stand i as a point at the place to go to, drawn by its status.
func (m *mapper) standSpot(i int) kml.Element {
	s := &m.run.Stands[i]
	m.name = m.run.AppendStandName(m.name[:0], i)
	m.balloon = m.appendToDo(m.balloon[:0], s)
	look := pointLook(&survey.Record{Detected: true, Status: s.Status})
	return kml.Placemark(
		kml.Name(title(string(m.name))),
		m.description(),
		styleOf(look.id),
		m.spot(wrapped(s.Place())),
	)
}
