// Package gpx reads waypoints, routes and tracks of GPX documents.
package gpx

import (
	"bytes"
	"encoding/xml"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
	"driftreach/internal/format/xmldoc"
)

// layers are the layers of a GPX file by element, with the names GDAL uses.
var layers = map[string]string{"wpt": "waypoints", "rte": "routes", "trk": "tracks"}

// Format is GPX 1.0 and 1.1 (https://www.topografix.com/GPX/1/1/).
type Format struct{}

// Traits implements format.
func (Format) Traits() format.Traits { return format.Traits{Name: "GPX", Text: true} }

// Is implements format.
func (Format) Is(r *format.Reading, _ *format.Document) bool { return xmldoc.RootOf(r) == "gpx" }

// Read reads waypoints if points are wanted, tracks and routes if lines are wanted, or the layer that
// was named. In a file of points, tracks show where the surveyor walked and are not finds.
func (Format) Read(r *format.Reading, _ *format.Document, take func(*format.Feature) error) error {
	r.Fixed()
	x := &reader{Reader: xmldoc.Open(r), take: take}
	if _, err := x.Root(); err != nil {
		return err
	}
	return x.Last(x.features())
}

// reader reads a GPX document.
type reader struct {
	*xmldoc.Reader
	take    func(*format.Feature) error
	skipped int // geometries of the other kind that were skipped
	walked  xmldoc.Walk
}

// features reads the document's waypoints, routes and tracks.
func (x *reader) features() error {
	err := x.Each(func(e xml.StartElement) error {
		layer, known := layers[e.Name.Local]
		switch {
		case !known:
			return nil
		case x.Layer != "" && !strings.EqualFold(x.Layer, layer), x.Layer == "" && !x.AnyShape && x.Lines == (layer == "waypoints"):
			x.skipped++
			return nil
		}
		x.Begin()
		if err := x.readFeature(e); err != nil {
			return err
		}
		return x.take(x.Finish())
	})
	switch {
	case err != nil:
		return err
	case x.Feature.Row == 0 && x.skipped > 0 && x.Lines:
		return x.Unusable("", "the file has no tracks and no routes", "name a file of tracks or routes; waypoints are points")
	case x.Feature.Row == 0 && x.skipped > 0:
		return x.Unusable("", "the file has no waypoints", "record finds as waypoints; tracks are lines")
	}
	return nil
}

// readFeature reads a waypoint, route or track.
func (x *reader) readFeature(e xml.StartElement) error {
	s := &x.Feature.Shape
	switch e.Name.Local {
	case "wpt":
		s.Is(format.PointShape, "waypoint")
		x.position(e)
	case "rte":
		s.Is(format.LineShape, "route")
	case "trk":
		s.Is(format.MultiLineShape, "track")
	}
	x.walked = xmldoc.Walk{}
	err := x.Each(func(child xml.StartElement) error {
		switch child.Name.Local {
		case "rtept":
			x.position(child)
			return x.Crowded()
		case "trkseg":
			return x.segment(&x.walked)
		case "extensions":
			return x.Each(func(extension xml.StartElement) error { return x.Column(extension.Name.Local) })
		case "link":
			return nil
		}
		return x.Column("gpx:" + child.Name.Local)
	})
	if s.Kind == format.LineShape {
		s.EndPart()
	}
	if x.walked.First != "" {
		x.Put(x.ColumnOf("gpx:time"), []byte(x.walked.First+"/"+x.walked.Last))
	}
	return err
}

func (x *reader) segment(walked *xmldoc.Walk) error {
	err := x.Each(func(e xml.StartElement) error {
		if e.Name.Local == "trkpt" {
			x.position(e)
			if x.Timed {
				return x.moment(walked)
			}
		}
		return x.Crowded()
	})
	x.Feature.Shape.EndPart()
	return err
}

// moment reads the time of the current position.
func (x *reader) moment(walked *xmldoc.Walk) error {
	err := x.Each(func(e xml.StartElement) error {
		if e.Name.Local != "time" {
			return nil
		}
		text, err := x.Content()
		if moment := bytes.TrimSpace(text); len(moment) > 0 {
			walked.Add(string(moment))
		}
		return err
	})
	if err != nil {
		return err
	}
	return x.Crowded()
}

func (x *reader) position(e xml.StartElement) {
	lon, err1 := strconv.ParseFloat(strings.TrimSpace(xmldoc.Attribute(e, "lon")), 64)
	lat, err2 := strconv.ParseFloat(strings.TrimSpace(xmldoc.Attribute(e, "lat")), 64)
	s := &x.Feature.Shape
	if (err1 != nil || err2 != nil) && s.Wrong == "" {
		s.Wrong = "lon or lat of a position is no number"
	}
	s.Add(orb.Point{lon, lat})
}
