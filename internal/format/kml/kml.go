// Package kml reads placemarks of KML documents.
package kml

import (
	"bytes"
	"encoding/xml"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
	"driftreach/internal/format/xmldoc"
)

// Format is KML 2.0 to 2.3 (OGC 12-007r2).
type Format struct{}

// Traits implements format.
func (Format) Traits() format.Traits { return format.Traits{Name: "KML", Text: true} }

// Is implements format.
func (Format) Is(r *format.Reading, _ *format.Document) bool {
	switch xmldoc.RootOf(r) {
	case "kml", "Document", "Folder", "Placemark":
		return true
	}
	return false
}

// Read reads the placemarks of all folders, or only those in the folder that the layer names. Links are
// followed to members of the same archive, and nowhere else.
func (Format) Read(r *format.Reading, _ *format.Document, take func(*format.Feature) error) error {
	r.Fixed()
	x := &reader{Reader: xmldoc.Open(r), take: take}
	x.Feature.Row = r.Rows
	defer func() { r.Rows = x.Feature.Row }()
	root, err := x.Root()
	switch {
	case err != nil:
		return err
	case root.Name.Local == "Placemark":
		return x.Last(x.placemark(root))
	}
	return x.Last(x.container(root, x.Layer == ""))
}

// reader reads a KML document.
type reader struct {
	*xmldoc.Reader
	take    func(*format.Feature) error
	skipped int // geometries of the other kind that were skipped
	walked  xmldoc.Walk

	blankPoint bool // the placemark has a point without coordinates

	placemarks, simple map[string]bool // of KML 2.0: element names of placemarks, and columns of each
}

// container reads a kml, Document or Folder element. wanted says whether its placemarks are read. An
// element's name comes before its contents.
func (x *reader) container(e xml.StartElement, wanted bool) error {
	return x.Each(func(child xml.StartElement) error {
		switch child.Name.Local {
		case "name":
			if e.Name.Local == "kml" {
				return nil
			}
			name, err := x.Content()
			if strings.EqualFold(x.Layer, string(bytes.TrimSpace(name))) {
				wanted = true
			}
			return err
		case "NetworkLink":
			return x.Each(func(link xml.StartElement) error {
				return x.Each(func(e xml.StartElement) error {
					if e.Name.Local != "href" {
						return nil
					}
					href, err := x.Content()
					x.Linked = append(x.Linked, string(bytes.TrimSpace(href)))
					return err
				})
			})
		case "Document", "Folder":
			return x.container(child, wanted)
		case "Schema":
			return x.schema(child)
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

// schema reads a KML 2.0 Schema: the element name of its placemarks and their columns. Later versions
// have such columns under ExtendedData.
func (x *reader) schema(e xml.StartElement) error {
	name, parent := xmldoc.Attribute(e, "name"), xmldoc.Attribute(e, "parent")
	var fields []string
	err := x.Each(func(child xml.StartElement) error {
		switch child.Name.Local {
		case "SimpleField":
			if field := xmldoc.Attribute(child, "name"); field != "" {
				fields = append(fields, field)
			}
			return nil
		case "name", "parent":
			text, err := x.Content()
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
func (x *reader) placemark(e xml.StartElement) error {
	x.Begin()
	x.walked = xmldoc.Walk{}
	x.blankPoint = false
	x.Feature.ID = append(x.Feature.ID, xmldoc.Attribute(e, "id")...)
	err := x.Each(func(child xml.StartElement) error {
		switch child.Name.Local {
		case "name", "description":
			return x.Column(child.Name.Local)
		case "TimeStamp", "TimeSpan":
			return x.Each(func(when xml.StartElement) error { return x.Column("kml:" + when.Name.Local) })
		case "ExtendedData":
			return x.extendedData()
		}
		if x.simple[child.Name.Local] {
			return x.Column(child.Name.Local)
		}
		return x.geometry(child)
	})
	if err != nil {
		return err
	}
	if x.walked.First != "" {
		x.Put(x.ColumnOf("kml:when"), []byte(x.walked.First+"/"+x.walked.Last))
	}
	if s := &x.Feature.Shape; s.Kind == format.NoShape && x.blankPoint {
		s.Is(format.PointShape, "Point")
	}
	return x.take(x.Finish())
}

// extendedData reads Data and SchemaData into columns.
func (x *reader) extendedData() error {
	return x.Each(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "Data":
			return x.Each(func(value xml.StartElement) error {
				if value.Name.Local != "value" {
					return nil
				}
				return x.Column(xmldoc.Attribute(e, "name"))
			})
		case "SchemaData":
			return x.Each(func(value xml.StartElement) error {
				if value.Name.Local != "SimpleData" {
					return nil
				}
				return x.Column(xmldoc.Attribute(value, "name"))
			})
		}
		return x.Column(e.Name.Local) // untyped data in other name spaces
	})
}

// geometry adds a geometry element to the shape and ignores anything else.
func (x *reader) geometry(e xml.StartElement) error {
	s := &x.Feature.Shape
	switch e.Name.Local {
	case "Point":
		return x.path(format.PointShape, "Point")
	case "LineString", "LinearRing":
		return x.path(format.LineShape, "LineString")
	case "Polygon":
		return x.polygon()
	case "Track":
		return x.track()
	case "MultiGeometry", "MultiTrack":
		before := len(s.Points)
		if err := x.Each(x.geometry); err != nil {
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

// path reads the coordinates of a point or line.
func (x *reader) path(kind format.ShapeKind, name string) error {
	before := len(x.Feature.Shape.Points)
	err := x.Each(func(e xml.StartElement) error {
		if e.Name.Local != "coordinates" {
			return nil
		}
		return x.coordinates()
	})
	s := &x.Feature.Shape
	if kind == format.LineShape {
		s.EndPart()
	} else if len(s.Points) == before { // some programs write an empty point beside the real geometry
		x.blankPoint = true
		return err
	}
	s.Join(kind, name)
	return err
}

func (x *reader) polygon() error {
	s := &x.Feature.Shape
	err := x.Each(func(boundary xml.StartElement) error {
		if boundary.Name.Local != "outerBoundaryIs" && boundary.Name.Local != "innerBoundaryIs" {
			return nil
		}
		return x.Each(func(ring xml.StartElement) error {
			if ring.Name.Local != "LinearRing" {
				return nil
			}
			err := x.Each(func(e xml.StartElement) error {
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

// track reads a gx:Track as a line, and its times if dates are wanted.
func (x *reader) track() error {
	s := &x.Feature.Shape
	err := x.Each(func(e xml.StartElement) error {
		timed := e.Name.Local == "when" && x.Timed
		if e.Name.Local != "coord" && !timed {
			return nil
		}
		text, err := x.Content()
		if moment := bytes.TrimSpace(text); timed && err == nil && len(moment) > 0 {
			x.walked.Add(string(moment))
		}
		if timed {
			return err
		}
		if err != nil {
			return err
		}
		x.position(bytes.ReplaceAll(bytes.TrimSpace(text), []byte(" "), []byte(",")))
		return x.Crowded()
	})
	s.EndPart()
	s.Join(format.LineShape, "LineString")
	return err
}

// coordinates reads "lon,lat[,height]" positions separated by white space.
func (x *reader) coordinates() error {
	text, err := x.Content()
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
	return x.Crowded()
}

// tightened removes white space around commas, in place, since people type "-118.2, 34.1" by hand.
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
func (x *reader) position(text []byte) {
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
