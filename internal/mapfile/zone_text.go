package mapfile

import (
	"bytes"
	"crypto/sha256"
	"encoding/xml"

	geoshape "driftreach/geo/shape"
	"driftreach/internal/part"
	"driftreach/internal/result"
)

// endOfPlacemark is how a placemark ends.
const endOfPlacemark = "</Placemark>\n"

// ZoneText returns the shape of a zone as it is in a KMZ, deflated: zones are half of what a large map
// holds, and so their shapes can be written where they are drawn.
func ZoneText(zone geoshape.OnSteps) part.Text {
	var b block
	m := &mapper{packed: true, block: &b}
	if err := m.zoneShape(zone); err != nil {
		return part.Text{} // it is written with the map, which tells the error
	}
	b.pack()
	return part.Text{From: hashOf(zone), Sum: b.sum, Size: b.size, Deflated: bytes.Clone(b.deflated.Bytes())}
}

// zoneApart writes the placemark of water body i's zone to the block. The shape is deflated apart from
// the rest.
func (m *mapper) zoneApart(t result.Table, i int) error {
	b, z := m.block, &m.run.Zones[i]
	m.name = m.run.AppendZoneName(m.name[:0], i)
	if err := open(&b.text, m.feature(t, i, zoneLook().id, nil), endOfPlacemark); err != nil {
		return err
	}
	if b.pack(); b.err != nil {
		return b.err
	}
	if m.run.ZoneText != nil {
		if text, there := m.run.ZoneText(z.WaterBody); there && text.From == hashOf(z.Geometry) {
			b.take(text)
			return nil
		}
	}
	return m.zoneShape(z.Geometry)
}

// zoneShape writes the shape of a zone, and the end of its placemark, to the block.
func (m *mapper) zoneShape(zone geoshape.OnSteps) error {
	enc := xml.NewEncoder(spilling{&m.block.text, m.block.spill})
	whole := xml.StartElement{Name: xml.Name{Local: "MultiGeometry"}}
	var failed error
	n := m.shapes.count(zone, mostVertices, func(rings [][]place, at int, several bool) {
		if several && at == 0 {
			failed = enc.EncodeToken(whole)
		}
		if failed == nil {
			failed = m.polygons([][][]place{rings})[0].MarshalXML(enc, xml.StartElement{})
		}
	})
	if n > 1 && failed == nil {
		failed = enc.EncodeToken(whole.End())
	}
	if failed != nil {
		return failed
	}
	if err := enc.Flush(); err != nil {
		return err
	}
	m.block.text.WriteString(endOfPlacemark)
	return nil
}

// hashOf returns a hash of a packed shape.
func hashOf(zone geoshape.OnSteps) [sha256.Size]byte {
	text, _ := zone.GobEncode() // never an error
	return sha256.Sum256(text)
}
