package intake

import (
	"bytes"
	"driftreach/internal/format"
	"encoding/xml"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// gpxLayers are the layers of a GPX file, as GDAL calls them too, by element.
var gpxLayers = map[string]string{"wpt": "waypoints", "rte": "routes", "trk": "tracks"}

// gpx is GPX 1.0 and 1.1 (https://www.topografix.com/GPX/1/1/).
type gpx struct{}

// Traits implements format.
func (gpx) Traits() format.Traits { return format.Traits{Name: "GPX", Text: true} }

// Is implements format.
func (gpx) Is(r *format.Reading, _ *format.Document) bool { return rootOf(r) == "gpx" }

// Read reads waypoints where points are wanted, tracks and routes where lines are,
// or the layer named. Tracks in a file of points are where the surveyor walked, and
// no finds.
func (gpx) Read(r *format.Reading, _ *format.Document, take func(*format.Feature) error) error {
	r.Fixed()
	x := &gpxReader{xmlReader: openXML(r), take: take}
	x.Feature.Row = r.Rows
	defer func() { r.Rows = x.Feature.Row }()
	if _, err := x.root(); err != nil {
		return err
	}
	return x.last(x.features())
}

// gpxReader reads a GPX document.
type gpxReader struct {
	*xmlReader
	take    func(*format.Feature) error
	skipped int // geometries of the other kind that were passed over
	walked  walk
}

// features reads the document's waypoints, routes and tracks.
func (x *gpxReader) features() error {
	err := x.each(func(e xml.StartElement) error {
		layer, known := gpxLayers[e.Name.Local]
		switch {
		case !known:
			return nil
		case x.Layer != "" && !strings.EqualFold(x.Layer, layer), x.Layer == "" && !x.AnyShape && x.Lines == (layer == "waypoints"):
			x.skipped++
			return nil
		}
		x.Begin()
		if err := x.readGPXFeature(e); err != nil {
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

// readGPXFeature reads a waypoint, route or track.
func (x *gpxReader) readGPXFeature(e xml.StartElement) error {
	s := &x.Feature.Shape
	switch e.Name.Local {
	case "wpt":
		s.Is(format.PointShape, "waypoint")
		x.gpxPosition(e)
	case "rte":
		s.Is(format.LineShape, "route")
	case "trk":
		s.Is(format.MultiLineShape, "track")
	}
	x.walked = walk{}
	err := x.each(func(child xml.StartElement) error {
		switch child.Name.Local {
		case "rtept":
			x.gpxPosition(child)
			return x.crowded()
		case "trkseg":
			return x.gpxSegment(&x.walked)
		case "extensions":
			return x.each(func(extension xml.StartElement) error { return x.column(extension.Name.Local) })
		case "link":
			return nil
		}
		return x.column("gpx:" + child.Name.Local)
	})
	if s.Kind == format.LineShape {
		s.EndPart()
	}
	if x.walked.first != "" {
		x.Put(x.columnOf("gpx:time"), []byte(x.walked.first+"/"+x.walked.last))
	}
	return err
}

func (x *gpxReader) gpxSegment(walked *walk) error {
	err := x.each(func(e xml.StartElement) error {
		if e.Name.Local == "trkpt" {
			x.gpxPosition(e)
			if x.Timed {
				return x.gpxMoment(walked)
			}
		}
		return x.crowded()
	})
	x.Feature.Shape.EndPart()
	return err
}

// gpxMoment reads the time of the position whose start was read last.
func (x *gpxReader) gpxMoment(walked *walk) error {
	err := x.each(func(e xml.StartElement) error {
		if e.Name.Local != "time" {
			return nil
		}
		text, err := x.content()
		if moment := bytes.TrimSpace(text); len(moment) > 0 {
			walked.add(string(moment))
		}
		return err
	})
	if err != nil {
		return err
	}
	return x.crowded()
}

func (x *gpxReader) gpxPosition(e xml.StartElement) {
	lon, err1 := strconv.ParseFloat(strings.TrimSpace(attribute(e, "lon")), 64)
	lat, err2 := strconv.ParseFloat(strings.TrimSpace(attribute(e, "lat")), 64)
	s := &x.Feature.Shape
	if (err1 != nil || err2 != nil) && s.Wrong == "" {
		s.Wrong = "lon or lat of a position is no number"
	}
	s.Add(orb.Point{lon, lat})
}
