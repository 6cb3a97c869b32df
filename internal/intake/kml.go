package intake

import (
	"bytes"
	"encoding/xml"
	"strings"

	"github.com/paulmach/orb"
)

// kml is KML 2.0 to 2.3 (OGC 12-007r2).
type kml struct{}

// Traits implements format.
func (kml) Traits() traits { return traits{name: "KML", text: true} }

// Is implements format.
func (kml) Is(r *reading, _ *document) bool {
	switch rootOf(r) {
	case "kml", "Document", "Folder", "Placemark":
		return true
	}
	return false
}

// Read reads the placemarks, in whatever folder, or those within the folder that the
// layer names. Links are followed to members of the same archive, and nowhere else.
func (kml) Read(r *reading, _ *document, take func(*feature) error) error {
	r.fixed()
	x := &kmlReader{xmlReader: openXML(r), take: take}
	x.feature.row = r.rows
	defer func() { r.rows = x.feature.row }()
	root, err := x.root()
	switch {
	case err != nil:
		return err
	case root.Name.Local == "Placemark":
		return x.last(x.placemark(root))
	}
	return x.last(x.kmlContainer(root, x.layer == ""))
}

// kmlReader reads a KML document.
type kmlReader struct {
	*xmlReader
	take    func(*feature) error
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
			if strings.EqualFold(x.layer, string(bytes.TrimSpace(name))) {
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
					x.linked = append(x.linked, string(bytes.TrimSpace(href)))
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
	if parent != "Placemark" || name == "" || len(x.placemarks)+len(fields) > x.limits.Columns {
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
	x.begin()
	x.walked = walk{}
	x.blankPoint = false
	x.feature.id = append(x.feature.id, attribute(e, "id")...)
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
		x.put(x.columnOf("kml:when"), []byte(x.walked.first+"/"+x.walked.last))
	}
	if s := &x.feature.shape; s.kind == noShape && x.blankPoint {
		s.is(pointShape, "Point")
	}
	return x.take(x.finish())
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
	s := &x.feature.shape
	switch e.Name.Local {
	case "Point":
		return x.kmlPath(pointShape, "Point")
	case "LineString", "LinearRing":
		return x.kmlPath(lineShape, "LineString")
	case "Polygon":
		return x.kmlPolygon()
	case "Track":
		return x.kmlTrack()
	case "MultiGeometry", "MultiTrack":
		before := len(s.points)
		if err := x.each(x.kmlGeometry); err != nil {
			return err
		}
		if s.kind == noShape && len(s.points) == before {
			s.is(otherShape, "empty MultiGeometry")
		}
	case "Model":
		s.is(otherShape, "Model")
	}
	return nil
}

// kmlPath reads the coordinates of a point or line.
func (x *kmlReader) kmlPath(kind shapeKind, name string) error {
	before := len(x.feature.shape.points)
	err := x.each(func(e xml.StartElement) error {
		if e.Name.Local != "coordinates" {
			return nil
		}
		return x.coordinates()
	})
	s := &x.feature.shape
	if kind == lineShape {
		s.endPart()
	} else if len(s.points) == before { // some write a blank point beside what is meant
		x.blankPoint = true
		return err
	}
	s.join(kind, name)
	return err
}

func (x *kmlReader) kmlPolygon() error {
	s := &x.feature.shape
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
			s.endPart()
			return err
		})
	})
	s.endPolygon()
	s.join(polygonShape, "Polygon")
	return err
}

// kmlTrack reads a gx:Track as a line, and its moments where days are wanted.
func (x *kmlReader) kmlTrack() error {
	s := &x.feature.shape
	err := x.each(func(e xml.StartElement) error {
		timed := e.Name.Local == "when" && x.timed
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
	s.endPart()
	s.join(lineShape, "LineString")
	return err
}

// coordinates reads "lon,lat[,height]" positions with white space between.
func (x *kmlReader) coordinates() error {
	text, err := x.content()
	if err != nil {
		return err
	}
	text = tightened(text)
	x.feature.shape.room(blankRuns(text) + 1)
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
	s := &x.feature.shape
	p, i, n := orb.Point{}, 0, 0
	if len(text) < len(room) {
		copy(room[:], text)
		for n < 3 {
			v, next, ok := coordinate(room[:], i)
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
	if (n < 2 || i < len(text)) && s.wrong == "" {
		s.wrong = "the coordinates are no list of longitude,latitude"
	}
	s.add(p)
}
