package testkit

import (
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
)

// Places counts the positions to go to that are inside the area they are for: of stands on the map and
// of remembered ones, of parts of stands, of the calendar's events, and waypoints.
type Places struct{ Stands, Parts, Events, Waypoints int }

// Add adds the counts of o.
func (p *Places) Add(o Places) {
	p.Stands, p.Parts, p.Events, p.Waypoints = p.Stands+o.Stands, p.Parts+o.Parts, p.Events+o.Events, p.Waypoints+o.Waypoints
}

// PlacesToGo checks every position to go to in a batch's folder against the outlines in it, both as
// written, by counting the crossings of a ray. The positions are those of followup.csv and
// stand_parts.geojson, and the GEO of the calendar, with its six decimals. The error names the first
// one outside.
func PlacesToGo(folder string) (Places, error) {
	var p Places
	outlines, err := outlinesOf(folder, "stands.geojson", "absent.geojson")
	if err != nil {
		return p, err
	}
	parts, err := featuresOf(filepath.Join(folder, "stand_parts.geojson"))
	if err != nil {
		return p, err
	}
	waits, treated := maps.Clone(outlines), maps.Clone(outlines) // for stands without parts, the whole outline
	for _, f := range parts {
		id, at := f.Properties.MustString("stand_id"), orb.Point{f.Properties.MustFloat64("decimalLongitude"), f.Properties.MustFloat64("decimalLatitude")}
		switch {
		case f.Properties["known_by"] == "acres": // its place in the stand is not known
			f.Geometry = outlines[id]
		case f.Properties["part"] == "treated":
			treated[id] = f.Geometry
		default:
			waits[id] = f.Geometry
		}
		if !within(f.Geometry, at) {
			return p, fmt.Errorf("%s: stand_parts.geojson: %v lies outside the part %s of %s", folder, at, f.Properties["part"], id)
		}
		p.Parts++
	}
	rows, err := csvRows(filepath.Join(folder, "followup.csv"))
	if err != nil {
		return p, err
	}
	for _, row := range rows {
		id, at := row["stand_id"], degrees(row["decimalLongitude"], row["decimalLatitude"])
		if !within(waits[id], at) {
			return p, fmt.Errorf("%s: followup.csv: %v lies outside stand %s", folder, at, id)
		}
		if again := row["look_again_longitude"]; again != "" && !within(treated[id], degrees(again, row["look_again_latitude"])) {
			return p, fmt.Errorf("%s: followup.csv: %s, %s lies outside what was treated of %s", folder, again, row["look_again_latitude"], id)
		}
		p.Stands++
	}
	if p.Waypoints, err = waypoints(folder, outlines); err != nil {
		return p, err
	}
	data, err := os.ReadFile(filepath.Join(folder, "followup.ics"))
	if err != nil {
		return p, err
	}
	events, err := positions(data)
	if err != nil {
		return p, err
	}
	for _, e := range events {
		of := waits[e.stand]
		if e.kind == "treated" {
			of = treated[e.stand]
		}
		if !within(of, e.at) {
			return p, fmt.Errorf("%s: followup.ics: %v lies outside %s, %s", folder, e.at, e.stand, e.kind)
		}
		p.Events++
	}
	return p, nil
}

// waypoints checks the waypoints of crew.gpx against the outlines of the stands that their descriptions
// name. A folder may have none.
func waypoints(folder string, outlines map[string]orb.Geometry) (int, error) {
	data, err := os.ReadFile(filepath.Join(folder, "crew.gpx"))
	if os.IsNotExist(err) {
		return 0, nil
	}
	var doc struct {
		Points []struct {
			Lat  float64 `xml:"lat,attr"`
			Lon  float64 `xml:"lon,attr"`
			Name string  `xml:"name"`
			Desc string  `xml:"desc"`
		} `xml:"wpt"`
	}
	if err := errors.Join(err, xml.Unmarshal(data, &doc)); err != nil {
		return 0, err
	}
	for _, w := range doc.Points {
		id, _, _ := strings.Cut(strings.TrimPrefix(w.Desc, "Stand "), ". ")
		if !within(outlines[id], orb.Point{w.Lon, w.Lat}) {
			return 0, fmt.Errorf("%s: crew.gpx: %s lies outside stand %s", folder, w.Name, id)
		}
	}
	return len(doc.Points), nil
}

// outlinesOf returns the outlines of GeoJSON layers by stand; a layer may be missing.
func outlinesOf(folder string, layers ...string) (map[string]orb.Geometry, error) {
	out := map[string]orb.Geometry{}
	for _, layer := range layers {
		features, err := featuresOf(filepath.Join(folder, layer))
		if err != nil {
			return nil, err
		}
		for _, f := range features {
			out[f.Properties.MustString("stand_id")] = f.Geometry
		}
	}
	return out, nil
}

// featuresOf returns the features of a GeoJSON file; none if it is missing.
func featuresOf(name string) ([]*geojson.Feature, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		if os.IsNotExist(err) {
			return nil, nil
		}
		return nil, err
	}
	var layer struct{ Features []*geojson.Feature }
	if err := json.Unmarshal(data, &layer); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return layer.Features, nil
}

// csvRows returns the rows of a table, by column.
func csvRows(name string) ([]map[string]string, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	table, err := csv.NewReader(file).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(table) == 0 {
		return nil, &fs.PathError{Op: "read", Path: name, Err: fs.ErrInvalid}
	}
	rows := make([]map[string]string, len(table)-1)
	for i, cells := range table[1:] {
		rows[i] = map[string]string{}
		for k, cell := range cells {
			rows[i][table[0][k]] = cell
		}
	}
	return rows, nil
}

// within is Within for a polygon or multipolygon; no other geometry contains a position.
func within(g orb.Geometry, at orb.Point) bool {
	switch g := g.(type) {
	case orb.MultiPolygon:
		return Within(g, at)
	case orb.Polygon:
		return Within(orb.MultiPolygon{g}, at)
	}
	return false
}

// Within says whether a position is inside an area whose polygons do not overlap: a ray from it crosses
// their sides an odd number of times.
func Within(area orb.MultiPolygon, at orb.Point) bool {
	inside := false
	for _, polygon := range area {
		for _, ring := range polygon {
			for i := 1; i < len(ring); i++ {
				a, b := ring[i-1], ring[i]
				if (a[1] > at[1]) != (b[1] > at[1]) && at[0] < a[0]+(at[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
					inside = !inside
				}
			}
		}
	}
	return inside
}
