package mapfile

import (
	"bytes"
	"strings"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// Survey points come by the million. Marshalling each through encoding/xml
// takes several times longer; so the library marshals one pattern of each
// element once, with a mark where the text goes, and only the marks are filled
// in for every point. TestPointPattern holds both ways equal.

// mark stands for text to be filled in. It is a private-use character, which
// encoding/xml leaves as it is.
const mark = "\uE0A0"

// pattern is a marshalled stretch of XML, split at its marks.
type pattern [][]byte

// patternOf marshals e and splits it.
func patternOf(e kml.Element) (pattern, error) {
	var b bytes.Buffer
	if err := marshal(&b, e); err != nil {
		return nil, err
	}
	return bytes.Split(bytes.TrimRight(b.Bytes(), "\n"), []byte(mark)), nil
}

// pointPattern is the patterns a survey point is put together from.
type pointPattern struct {
	table result.Table
	open  pattern   // name, style
	data  []pattern // of each field, its value
	shut  pattern   // the end of the data, the point about its coordinates, the end
}

// newPointPattern makes the patterns of t, for points that start switched on or
// off. Carried columns stay in points.geojson: the map is for looking.
func newPointPattern(t result.Table, visible bool) (*pointPattern, error) {
	p := &pointPattern{table: t}
	placemark := kml.Placemark(kml.Name(mark))
	if !visible {
		placemark.Append(kml.Visibility(false))
	}
	placemark.Append(kml.StyleURL("#" + mark))
	placemark.Append(kml.ExtendedData(kml.SchemaData("#"+t.Name, kml.SimpleData("", mark))))
	whole, err := patternOf(placemark.Append(kml.Point(kml.Coordinates())))
	if err != nil {
		return nil, err
	}
	// the first SimpleData of the pattern only marks the place of the fields
	empty := []byte(`<SimpleData name="">`)
	before, _, _ := bytes.Cut(whole[2], empty)
	p.open = pattern{whole[0], whole[1], before}
	_, after, _ := bytes.Cut(whole[3], []byte("</SimpleData>"))
	before, after, _ = bytes.Cut(after, []byte("<Point>"))
	head, tail, _ := bytes.Cut(after, []byte("</coordinates>"))
	point, end, _ := bytes.Cut(tail, []byte("</Placemark>"))
	p.shut = pattern{
		before, append([]byte("<Point>"), head...), append([]byte("</coordinates>"), point...),
		append([]byte("</Placemark>"), append(end, '\n')...),
	}
	for _, f := range t.Fields {
		field, err := patternOf(kml.SimpleData(f.Name, mark))
		if err != nil {
			return nil, err
		}
		p.data = append(p.data, field)
	}
	return p, nil
}

// append appends the placemark of record i.
func (p *pointPattern) append(b []byte, m *mapper, i int) []byte {
	r := &m.run.Records[i]
	b = appendXML(append(b, p.open[0]...), r.ID)
	b = append(append(b, p.open[1]...), pointLook(r).id...)
	b = append(b, p.open[2]...)
	m.row = p.table.Row(m.run, i, m.row)
	for k, v := range m.row {
		if v.Kind == result.Null {
			continue
		}
		b = append(b, p.data[k][0]...)
		if v.Kind == result.Text {
			b = appendXML(b, v.Text)
		} else {
			b = appendSimple(b, v)
		}
		b = append(b, p.data[k][1]...)
	}
	b = append(b, p.shut[0]...)
	if finite(r.Position) {
		q := wrapped(r.Position)
		b = appendDegrees(append(b, p.shut[1]...), q[0])
		b = appendDegrees(append(b, ','), q[1])
		b = append(b, p.shut[2]...)
	}
	return append(b, p.shut[3]...)
}

// appendXML appends s as XML text, as an xml.Encoder does.
func appendXML(b []byte, s string) []byte {
	if plain(s) {
		return append(b, s...)
	}
	var out bytes.Buffer
	// a bytes.Buffer never fails to take what it is given
	_ = escapeXML(&out, s)
	// an encoder leaves line feeds as they are within text
	return append(b, bytes.ReplaceAll(out.Bytes(), []byte("&#xA;"), []byte("\n"))...)
}

// plain reports whether s needs no escape: printable ASCII without markup.
func plain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || strings.IndexByte(`<>&'"`, c) >= 0 {
			return false
		}
	}
	return true
}
