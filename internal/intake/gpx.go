package intake

import (
	"bytes"
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
func (gpx) Traits() traits { return traits{name: "GPX", text: true} }

// Is implements format.
func (gpx) Is(r *reading, _ *document) bool { return rootOf(r) == "gpx" }

// Read reads waypoints where points are wanted, tracks and routes where lines are,
// or the layer named. Tracks in a file of points are where the surveyor walked, and
// no finds.
func (gpx) Read(r *reading, _ *document, take func(*feature) error) error {
	r.fixed()
	x := &gpxReader{xmlReader: openXML(r), take: take}
	x.feature.row = r.rows
	defer func() { r.rows = x.feature.row }()
	if _, err := x.root(); err != nil {
		return err
	}
	return x.last(x.features())
}

// gpxReader reads a GPX document.
type gpxReader struct {
	*xmlReader
	take    func(*feature) error
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
		case x.layer != "" && !strings.EqualFold(x.layer, layer), x.layer == "" && !x.anyShape && x.lines == (layer == "waypoints"):
			x.skipped++
			return nil
		}
		x.begin()
		if err := x.readGPXFeature(e); err != nil {
			return err
		}
		return x.take(x.finish())
	})
	switch {
	case err != nil:
		return err
	case x.feature.row == 0 && x.skipped > 0 && x.lines:
		return x.unusable("", "the file has no tracks and no routes", "name a file of tracks or routes; waypoints are points")
	case x.feature.row == 0 && x.skipped > 0:
		return x.unusable("", "the file has no waypoints", "record finds as waypoints; tracks are lines")
	}
	return nil
}

// readGPXFeature reads a waypoint, route or track.
func (x *gpxReader) readGPXFeature(e xml.StartElement) error {
	s := &x.feature.shape
	switch e.Name.Local {
	case "wpt":
		s.is(pointShape, "waypoint")
		x.gpxPosition(e)
	case "rte":
		s.is(lineShape, "route")
	case "trk":
		s.is(multiLineShape, "track")
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
	if s.kind == lineShape {
		s.endPart()
	}
	if x.walked.first != "" {
		x.put(x.columnOf("gpx:time"), []byte(x.walked.first+"/"+x.walked.last))
	}
	return err
}

func (x *gpxReader) gpxSegment(walked *walk) error {
	err := x.each(func(e xml.StartElement) error {
		if e.Name.Local == "trkpt" {
			x.gpxPosition(e)
			if x.timed {
				return x.gpxMoment(walked)
			}
		}
		return x.crowded()
	})
	x.feature.shape.endPart()
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
	s := &x.feature.shape
	if (err1 != nil || err2 != nil) && s.wrong == "" {
		s.wrong = "lon or lat of a position is no number"
	}
	s.add(orb.Point{lon, lat})
}
