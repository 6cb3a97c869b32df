package mapfile

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"io"
	"slices"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// piece is a part of the document that can be made independently, in any goroutine.
type piece func(m *mapper, b *bytes.Buffer) error

// document is a KML document that is being made: its pieces in order.
type document struct {
	run    *result.Run
	packed bool // in a KMZ, with images
	pieces []piece

	// of a large map in a KMZ
	inParts bool
	parts   []*mapPart
	inside  []string // names of the open folders
	text    string   // description of the innermost one
}

func (d *document) add(p piece) { d.pieces = append(d.pieces, p) }

func (d *document) raw(s string) {
	d.add(func(_ *mapper, b *bytes.Buffer) error {
		_, err := b.WriteString(s)
		return err
	})
}

// marshal writes elements with encoding/xml, one a line.
func marshal(w io.Writer, elements ...kml.Element) error {
	enc := xml.NewEncoder(w)
	for _, e := range elements {
		if err := encode(enc, e); err != nil {
			return err
		}
	}
	return enc.Flush()
}

// encode writes an element and a line feed.
func encode(enc *xml.Encoder, e kml.Element) error {
	if err := e.MarshalXML(enc, xml.StartElement{}); err != nil {
		return err
	}
	return enc.EncodeToken(xml.CharData("\n"))
}

// open writes an element without its end tag, so that more can be written inside it.
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

// lineFeed is written between elements so that a person can read the document.
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

// folder opens a folder, calls fill and closes the folder. In a large map in a KMZ the parts are named
// after the folder.
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

// mapPart is a part of a large map.
type mapPart struct {
	file, name, text string
	around           box
	doc              *document
}

// inPieces adds the given rows to this document, n to a piece.
func (d *document) inPieces(rows []int32, n int, add func(m *mapper, i int) kml.Element) {
	for part := range slices.Chunk(rows, n) {
		d.add(func(m *mapper, b *bytes.Buffer) error {
			enc := xml.NewEncoder(spilling{b, m.spill})
			for _, i := range part {
				if err := encode(enc, add(m, int(i))); err != nil {
					return err
				}
			}
			return enc.Flush()
		})
	}
}

// zonePieces adds the zones of the given rows, each in a piece. In a KMZ the shape is deflated apart from
// the rest of the placemark, so that it may come from elsewhere.
func (d *document) zonePieces(rows []int32, t result.Table) {
	for _, i := range rows {
		d.add(func(m *mapper, b *bytes.Buffer) error {
			if m.block == nil {
				return marshal(b, m.zone(t, int(i)))
			}
			return m.zoneApart(t, int(i))
		})
	}
}

// spilledBytes is how much text of a piece is kept before it is deflated. Our choice: little memory;
// the zone of a large river is many megabytes.
const spilledBytes = 64 << 10

// spilling writes to a buffer, and empties it when it holds much.
type spilling struct {
	b     *bytes.Buffer
	spill func(*bytes.Buffer)
}

// Write implements io.Writer.
func (s spilling) Write(p []byte) (int, error) {
	if s.spill != nil && s.b.Len() > spilledBytes {
		s.spill(s.b)
	}
	return s.b.Write(p)
}
