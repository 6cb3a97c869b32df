package mapfile

import "encoding/xml"

// Elements of our own, beside go-kml's: coordinates, data and descriptions. They are nearly all of a
// map's bytes, and made by the library they would take a tenth of a whole batch (scripts/MEASURED.md).
// TestPlacemarks holds them to the library's bytes.

// escaped is an element with text in which nothing needs to be escaped any more.
type escaped struct {
	name string
	text []byte
}

// MarshalXML writes the element.
func (e escaped) MarshalXML(enc *xml.Encoder, _ xml.StartElement) error {
	type inner struct {
		Text []byte `xml:",innerxml"`
	}
	return enc.EncodeElement(inner{e.text}, xml.StartElement{Name: xml.Name{Local: e.name}})
}

// coordinates is a coordinates element: longitude, latitude of each place. The text is made when it is
// written, so that the texts of all rings of a large zone are not held at once.
type coordinates struct {
	m    *mapper
	path []place
	thin bool // a line, with only the vertices that a map needs
}

// MarshalXML writes the element.
func (c coordinates) MarshalXML(enc *xml.Encoder, start xml.StartElement) error {
	path := c.path
	if c.thin {
		path = c.m.thin.line(path)
	}
	b := c.m.places[:0]
	for i, p := range path {
		if i > 0 {
			b = append(b, ' ')
		}
		b = appendDegrees(b, p[0])
		b = appendDegrees(append(b, ','), p[1])
	}
	c.m.places = b
	return escaped{"coordinates", b}.MarshalXML(enc, start)
}
