package validate

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// GeoJSON checks a FeatureCollection against RFC 7946 and the rules of this project: at most seven
// decimals, unique ids, and no property that the first feature does not have.
func GeoJSON(data []byte, within Bounds) *Report {
	r := &Report{}
	if !utf8.Valid(data) || bytes.HasPrefix(data, []byte("\uFEFF")) {
		r.addf("not UTF-8 without a byte-order mark")
	}
	var c featureCollection
	if err := decodeOne(data, &c); err != nil {
		r.addf("not JSON: %v", err)
		return r
	}
	if c.Type != "FeatureCollection" || c.Features == nil {
		r.addf("not a FeatureCollection")
	}
	if c.CRS != nil {
		r.addf("a crs member (RFC 7946, section 4, has none)")
	}
	r.Features = len(c.Features)
	g := &geometryCheck{r: r, within: within, ids: map[string]bool{}}
	for i := range c.Features {
		g.feature(i, &c.Features[i])
	}
	g.bbox(c.BBox)
	return r
}

type featureCollection struct {
	Type     string          `json:"type"`
	CRS      json.RawMessage `json:"crs"`
	BBox     []float64       `json:"bbox"`
	Features []feature       `json:"features"`
}

type feature struct {
	Type       string          `json:"type"`
	ID         json.RawMessage `json:"id"`
	Geometry   json.RawMessage `json:"geometry"`
	Properties json.RawMessage `json:"properties"`
}

type geometry struct {
	Type        string          `json:"type"`
	Coordinates json.RawMessage `json:"coordinates"`
}

// decodeOne decodes a text that contains one JSON value and nothing else.
func decodeOne(data []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	if err := d.Decode(into); err != nil {
		return err
	}
	if _, err := d.Token(); err != io.EOF {
		return io.ErrUnexpectedEOF
	}
	return nil
}

type geometryCheck struct {
	r      *Report
	within Bounds
	ids    map[string]bool
	names  []string // of the first feature's properties
	places []position
}

func (g *geometryCheck) feature(i int, f *feature) {
	where := "feature " + string(f.ID)
	if f.Type != "Feature" {
		g.r.addf("%s: type is %q", where, f.Type)
	}
	if len(f.ID) == 0 || strings.ContainsRune("{[ntf", rune(f.ID[0])) {
		g.r.addf("feature %d: id is neither text nor number", i)
	}
	if g.ids[string(f.ID)] {
		g.r.addf("%s: id is not unique", where)
	}
	g.ids[string(f.ID)] = true
	g.properties(where, f.Properties, i == 0)
	switch string(f.Geometry) {
	case "":
		g.r.addf("%s: no geometry member", where)
	case "null":
	default:
		g.geometry(where, f.Geometry)
	}
}

// properties checks that every feature has only properties of the first one, in the same order.
func (g *geometryCheck) properties(where string, raw json.RawMessage, first bool) {
	names, err := memberNames(raw)
	if err != nil {
		g.r.addf("%s: properties: %v", where, err)
		return
	}
	if first {
		g.names = names
	}
	k := 0
	for _, name := range g.names {
		if k < len(names) && names[k] == name {
			k++
		}
	}
	if k < len(names) {
		g.r.addf("%s: a property that the first feature does not have, or in another order: %s", where, names[k])
	}
	if sorted := slices.Sorted(slices.Values(names)); len(slices.Compact(sorted)) != len(names) {
		g.r.addf("%s: a property comes twice", where)
	}
}

// memberNames returns an object's member names in the order of the text.
func memberNames(raw json.RawMessage) ([]string, error) {
	d := json.NewDecoder(bytes.NewReader(raw))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return nil, io.ErrUnexpectedEOF
	}
	var names []string
	for d.More() {
		t, err := d.Token()
		if err != nil {
			return nil, err
		}
		names = append(names, t.(string))
		var skipped json.RawMessage
		if err := d.Decode(&skipped); err != nil {
			return nil, err
		}
	}
	return names, nil
}

func (g *geometryCheck) geometry(where string, raw json.RawMessage) {
	var shape geometry
	if err := json.Unmarshal(raw, &shape); err != nil {
		g.r.addf("%s: geometry: %v", where, err)
		return
	}
	g.decimals(where, shape.Coordinates)
	switch shape.Type {
	case "Point":
		g.points(where, "["+string(shape.Coordinates)+"]", nil)
	case "MultiPoint":
		var all []json.RawMessage
		if err := json.Unmarshal(shape.Coordinates, &all); err != nil || len(all) == 0 {
			g.r.addf("%s: MultiPoint without points", where)
		}
		for _, one := range all { // separate points, without edges
			g.points(where, "["+string(one)+"]", nil)
		}
	case "LineString":
		g.paths(where, "["+string(shape.Coordinates)+"]", g.r.line)
	case "MultiLineString":
		g.paths(where, string(shape.Coordinates), g.r.line)
	case "Polygon":
		g.polygons(where, "["+string(shape.Coordinates)+"]")
	case "MultiPolygon":
		g.polygons(where, string(shape.Coordinates))
	default:
		g.r.addf("%s: geometry of type %q", where, shape.Type)
	}
}

// decimals checks that no coordinate has more than seven decimals.
func (g *geometryCheck) decimals(where string, raw []byte) {
	run, after := 0, false
	for _, c := range raw {
		switch {
		case c == '.':
			run, after = 0, true
		case c >= '0' && c <= '9' && after:
			if run++; run == 8 {
				g.r.addf("%s: more than seven decimals", where)
				return
			}
		default:
			after = false
		}
	}
}

type checkPath func(where string, path []position, within Bounds)

func (g *geometryCheck) points(where, raw string, check checkPath) {
	var lists [][]float64
	if err := json.Unmarshal([]byte(raw), &lists); err != nil {
		g.r.addf("%s: coordinates: %v", where, err)
		return
	}
	path := make([]position, 0, len(lists))
	for _, l := range lists {
		if len(l) != 2 {
			g.r.addf("%s: position of %d numbers", where, len(l))
			return
		}
		path = append(path, position{l[0], l[1]})
	}
	g.places = append(g.places, path...)
	if check == nil {
		check = g.r.path
	}
	check(where, path, g.within)
}

func (g *geometryCheck) paths(where, raw string, check checkPath) {
	var lists []json.RawMessage
	if err := json.Unmarshal([]byte(raw), &lists); err != nil || len(lists) == 0 {
		g.r.addf("%s: coordinates are not a list of lines", where)
		return
	}
	for _, l := range lists {
		g.points(where, string(l), check)
	}
}

func (g *geometryCheck) polygons(where, raw string) {
	var lists [][]json.RawMessage
	if err := json.Unmarshal([]byte(raw), &lists); err != nil || len(lists) == 0 {
		g.r.addf("%s: coordinates are not a list of polygons", where)
		return
	}
	for _, rings := range lists {
		for k, ring := range rings {
			g.points(where, string(ring), func(w string, path []position, b Bounds) {
				g.r.ring(w, path, k == 0, b)
			})
		}
	}
}

// bbox checks that the bounding box contains every position and touches the southernmost and
// northernmost ones.
func (g *geometryCheck) bbox(box []float64) {
	if box == nil {
		if len(g.places) > 0 {
			g.r.addf("no bbox")
		}
		return
	}
	if len(box) != 4 || box[1] > box[3] {
		g.r.addf("bbox %v is not west, south, east, north", box)
		return
	}
	b := Bounds{box[0], box[1], box[2], box[3]}
	if (b == Bounds{}) {
		return
	}
	south, north := math.Inf(1), math.Inf(-1)
	for _, p := range g.places {
		if !b.holds(p) {
			g.r.addf("bbox %v leaves out %v", box, p)
			return
		}
		south, north = min(south, p[1]), max(north, p[1])
	}
	if len(g.places) > 0 && (south != b.South || north != b.North) {
		g.r.addf("bbox %v is wider than its positions, from %v to %v north", box, south, north)
	}
}
