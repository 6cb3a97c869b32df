package intake

import (
	"bytes"
	"driftreach/internal/format"
	"encoding/xml"
	"strings"

	"github.com/paulmach/orb"
)

// kml is KML 2.0 to 2.3 (OGC 12-007r2).
type kml struct{}

// Traits implements format.
func (kml) Traits() format.Traits { return format.Traits{Name: "KML", Text: true} }

// Is implements format.
func (kml) Is(r *format.Reading, _ *format.Document) bool {
	switch rootOf(r) {
	case "kml", "Document", "Folder", "Placemark":
		return true
	}
	return false
}

// Read reads the placemarks, in whatever folder, or those within the folder that the
// layer names. Links are followed to members of the same archive, and nowhere else.
func (kml) Read(r *format.Reading, _ *format.Document, take func(*format.Feature) error) error {
	r.Fixed()
	x := &kmlReader{xmlReader: openXML(r), take: take}
	x.Feature.Row = r.Rows
	defer func() { r.Rows = x.Feature.Row }()
	root, err := x.root()
	switch {
	case err != nil:
		return err
	case root.Name.Local == "Placemark":
		return x.last(x.placemark(root))
	}
	return x.last(x.kmlContainer(root, x.Layer == ""))
}

// kmlReader reads a KML document.
type kmlReader struct {
	*xmlReader
	take    func(*format.Feature) error
	skipped int // geometries of the other kind that were passed over
	walked  walk

	blankPoint bool // the placemark has a point without coordinates

	placemarks, simple map[string]bool // of KML 2.0: names of placemarks, and of columns in them
}

// kmlContainer reads a kml, Document or Folder element; wanted says whether its
// placemarks are asked for. A name comes before what it names.
func (x *kmlReader) kmlContainer(e xml.StartElement, wanted bool) error {
	return x.each(func(child xml.StartElement) error {
		switch child.Name.Local {
		case "name":
			if e.Name.Local == "kml" {
				return nil
			}
			name, err := x.content()
			if strings.EqualFold(x.Layer, string(bytes.TrimSpace(name))) {
				wanted = true
			}
			return err
		case "NetworkLink":
			return x.each(func(link xml.StartElement) error {
				return x.each(func(e xml.StartElement) error {
					if e.Name.Local != "href" {
						return nil
					}
					href, err := x.content()
					x.Linked = append(x.Linked, string(bytes.TrimSpace(href)))
					return err
				})
			})
		case "Document", "Folder":
			return x.kmlContainer(child, wanted)
		case "Schema":
			return x.kmlSchema(child)
		}
		if child.Name.Local != "Placemark" && !x.placemarks[child.Name.Local] {
			return nil
		}
		if !wanted {
			x.skipped++
			return nil
		}
		return x.placemark(child)
	})
}

// kmlSchema takes the name under which KML 2.0 has placemarks with columns of
// their own, and the columns. Later versions have them under ExtendedData.
func (x *kmlReader) kmlSchema(e xml.StartElement) error {
	name, parent := attribute(e, "name"), attribute(e, "parent")
	var fields []string
	err := x.each(func(child xml.StartElement) error {
		switch child.Name.Local {
		case "SimpleField":
			if field := attribute(child, "name"); field != "" {
				fields = append(fields, field)
			}
			return nil
		case "name", "parent":
			text, err := x.content()
			if value := string(bytes.TrimSpace(text)); child.Name.Local == "name" {
				name = value
			} else {
				parent = value
			}
			return err
		}
		return nil
	})
	if parent != "Placemark" || name == "" || len(x.placemarks)+len(fields) > x.Limits.Columns {
		return err
	}
	if x.placemarks == nil {
		x.placemarks, x.simple = map[string]bool{}, map[string]bool{}
	}
	x.placemarks[name] = true
	for _, field := range fields {
		x.simple[field] = true
	}
	return err
}

// placemark reads one placemark.
func (x *kmlReader) placemark(e xml.StartElement) error {
	x.Begin()
	x.walked = walk{}
	x.blankPoint = false
	x.Feature.ID = append(x.Feature.ID, attribute(e, "id")...)
	err := x.each(func(child xml.StartElement) error {
		switch child.Name.Local {
		case "name", "description":
			return x.column(child.Name.Local)
		case "TimeStamp", "TimeSpan":
			return x.each(func(when xml.StartElement) error { return x.column("kml:" + when.Name.Local) })
		case "ExtendedData":
			return x.extendedData()
		}
		if x.simple[child.Name.Local] {
			return x.column(child.Name.Local)
		}
		return x.kmlGeometry(child)
	})
	if err != nil {
		return err
	}
	if x.walked.first != "" {
		x.Put(x.columnOf("kml:when"), []byte(x.walked.first+"/"+x.walked.last))
	}
	if s := &x.Feature.Shape; s.Kind == format.NoShape && x.blankPoint {
		s.Is(format.PointShape, "Point")
	}
	return x.take(x.Finish())
}

// extendedData reads Data and SchemaData into columns.
func (x *kmlReader) extendedData() error {
	return x.each(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "Data":
			return x.each(func(value xml.StartElement) error {
				if value.Name.Local != "value" {
					return nil
				}
				return x.column(attribute(e, "name"))
			})
		case "SchemaData":
			return x.each(func(value xml.StartElement) error {
				if value.Name.Local != "SimpleData" {
					return nil
				}
				return x.column(attribute(value, "name"))
			})
		}
		return x.column(e.Name.Local) // untyped data of other name spaces
	})
}

// kmlGeometry adds a geometry element to the shape; anything else is left.
func (x *kmlReader) kmlGeometry(e xml.StartElement) error {
	s := &x.Feature.Shape
	switch e.Name.Local {
	case "Point":
		return x.kmlPath(format.PointShape, "Point")
	case "LineString", "LinearRing":
		return x.kmlPath(format.LineShape, "LineString")
	case "Polygon":
		return x.kmlPolygon()
	case "Track":
		return x.kmlTrack()
	case "MultiGeometry", "MultiTrack":
		before := len(s.Points)
		if err := x.each(x.kmlGeometry); err != nil {
			return err
		}
		if s.Kind == format.NoShape && len(s.Points) == before {
			s.Is(format.OtherShape, "empty MultiGeometry")
		}
	case "Model":
		s.Is(format.OtherShape, "Model")
	}
	return nil
}

// kmlPath reads the coordinates of a point or line.
func (x *kmlReader) kmlPath(kind format.ShapeKind, name string) error {
	before := len(x.Feature.Shape.Points)
	err := x.each(func(e xml.StartElement) error {
		if e.Name.Local != "coordinates" {
			return nil
		}
		return x.coordinates()
	})
	s := &x.Feature.Shape
	if kind == format.LineShape {
		s.EndPart()
	} else if len(s.Points) == before { // some write a blank point beside what is meant
		x.blankPoint = true
		return err
	}
	s.Join(kind, name)
	return err
}

func (x *kmlReader) kmlPolygon() error {
	s := &x.Feature.Shape
	err := x.each(func(boundary xml.StartElement) error {
		if boundary.Name.Local != "outerBoundaryIs" && boundary.Name.Local != "innerBoundaryIs" {
			return nil
		}
		return x.each(func(ring xml.StartElement) error {
			if ring.Name.Local != "LinearRing" {
				return nil
			}
			err := x.each(func(e xml.StartElement) error {
				if e.Name.Local != "coordinates" {
					return nil
				}
				return x.coordinates()
			})
			s.EndPart()
			return err
		})
	})
	s.EndPolygon()
	s.Join(format.PolygonShape, "Polygon")
	return err
}

// kmlTrack reads a gx:Track as a line, and its moments where days are wanted.
func (x *kmlReader) kmlTrack() error {
	s := &x.Feature.Shape
	err := x.each(func(e xml.StartElement) error {
		timed := e.Name.Local == "when" && x.Timed
		if e.Name.Local != "coord" && !timed {
			return nil
		}
		text, err := x.content()
		if moment := bytes.TrimSpace(text); timed && err == nil && len(moment) > 0 {
			x.walked.add(string(moment))
		}
		if timed {
			return err
		}
		if err != nil {
			return err
		}
		x.position(bytes.ReplaceAll(bytes.TrimSpace(text), []byte(" "), []byte(",")))
		return x.crowded()
	})
	s.EndPart()
	s.Join(format.LineShape, "LineString")
	return err
}

// coordinates reads "lon,lat[,height]" positions with white space between.
func (x *kmlReader) coordinates() error {
	text, err := x.content()
	if err != nil {
		return err
	}
	text = tightened(text)
	x.Feature.Shape.Room(blankRuns(text) + 1)
	for len(text) > 0 {
		begin := bytes.IndexFunc(text, notBlank)
		if begin < 0 {
			break
		}
		text = text[begin:]
		end := bytes.IndexAny(text, " \t\r\n")
		if end < 0 {
			end = len(text)
		}
		x.position(text[:end])
		text = text[end:]
	}
	return x.crowded()
}

// tightened takes white space round commas out, in place, as people write it by
// hand: "-118.2, 34.1".
func tightened(text []byte) []byte {
	if !bytes.Contains(text, []byte(", ")) && !bytes.Contains(text, []byte(" ,")) && !bytes.Contains(text, []byte(",\n")) {
		return text
	}
	out := text[:0]
	for _, b := range text {
		switch {
		case b == ',':
			out = append(bytes.TrimRight(out, " \t\r\n"), b)
		case notBlank(rune(b)) || len(out) == 0 || out[len(out)-1] != ',':
			out = append(out, b)
		}
	}
	return out
}

// blankRuns counts the runs of white space in a text.
func blankRuns(text []byte) int {
	n, before := 0, true
	for _, b := range text {
		blank := b <= ' '
		if blank && !before {
			n++
		}
		before = blank
	}
	return n
}

func notBlank(r rune) bool { return r != ' ' && r != '\t' && r != '\r' && r != '\n' }

// position reads one "lon,lat[,height]".
func (x *kmlReader) position(text []byte) {
	var room [128]byte
	s := &x.Feature.Shape
	p, i, n := orb.Point{}, 0, 0
	if len(text) < len(room) {
		copy(room[:], text)
		for n < 3 {
			v, next, ok := format.Coordinate(room[:], i)
			if !ok {
				break
			}
			if n < 2 {
				p[n] = v
			}
			n++
			if i = next; room[i] != ',' {
				break
			}
			i++
		}
	}
	if (n < 2 || i < len(text)) && s.Wrong == "" {
		s.Wrong = "the coordinates are no list of longitude,latitude"
	}
	s.Add(p)
}
