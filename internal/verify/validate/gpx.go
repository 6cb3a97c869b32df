package validate

import (
	"slices"
	"strconv"
	"strings"
	"time"
)

// gpxSpace is the namespace of GPX 1.1.
const gpxSpace = "http://www.topografix.com/GPX/1/1"

// gpxOrder is the order of the child elements in GPX 1.1, by its schema
// (topografix.com/GPX/1/1/gpx.xsd), and which of them may occur more than once.
var gpxOrder = map[string][]string{
	"gpx":      {"metadata", "wpt*", "rte*", "trk*", "extensions"},
	"metadata": {"name", "desc", "author", "copyright", "link*", "time", "keywords", "bounds", "extensions"},
	"rte":      {"name", "cmt", "desc", "src", "link*", "number", "type", "extensions", "rtept*"},
	"wpt": {
		"ele", "time", "magvar", "geoidheight", "name", "cmt", "desc", "src", "link*", "sym", "type",
		"fix", "sat", "hdop", "vdop", "pdop", "ageofdgpsdata", "dgpsid", "extensions",
	},
}

// GPX checks a document of waypoints and routes against the schema of GPX 1.1, and that no two
// waypoints have the same name. Features are waypoints and routes.
func GPX(data []byte, within Bounds) *Report {
	r := &Report{}
	root, err := parse(data)
	if err != nil {
		r.addf("not XML: %v", err)
		return r
	}
	if root.name != "gpx" || root.space != gpxSpace || root.attr["version"] != "1.1" || root.attr["creator"] == "" {
		r.addf("root is %s in %q, version %q, creator %q", root.name, root.space, root.attr["version"], root.attr["creator"])
	}
	names := map[string]bool{}
	root.walk(func(n *node) {
		switch n.name {
		case "wpt":
			r.Features++
			if name := n.value("name"); name == "" || names[name] {
				r.addf("wpt: the name %q is missing or used twice", name)
			} else {
				names[name] = true
			}
			r.gpxPlace(n, within)
		case "rte":
			r.Features++
			if len(n.children) == 0 || n.child("rtept") == nil {
				r.addf("rte %q: no point", n.value("name"))
			}
		case "rtept":
			r.gpxPlace(n, within)
		case "time":
			if _, err := time.Parse(time.RFC3339, strings.TrimSpace(n.text)); err != nil {
				r.addf("time %q is none", n.text)
			}
		}
		r.gpxChildren(n)
	})
	return r
}

// gpxPlace checks a point. Longitudes must be below 180 (longitudeType in the schema).
func (r *Report) gpxPlace(n *node, within Bounds) {
	lat, errLat := strconv.ParseFloat(n.attr["lat"], 64)
	lon, errLon := strconv.ParseFloat(n.attr["lon"], 64)
	if errLat != nil || errLon != nil || lon == 180 || strings.ContainsAny(n.attr["lat"]+n.attr["lon"], "eE") {
		r.addf("%s: lat %q, lon %q", n.name, n.attr["lat"], n.attr["lon"])
		return
	}
	r.place(n.name, position{lon, lat}, within)
}

// gpxChildren checks the order and number of an element's children.
func (r *Report) gpxChildren(n *node) {
	name := n.name
	if name == "rtept" {
		name = "wpt"
	}
	order, known := gpxOrder[name]
	if !known {
		return
	}
	last := -1
	for _, c := range n.children {
		at := slices.IndexFunc(order, func(o string) bool { return strings.TrimSuffix(o, "*") == c.name })
		switch {
		case at < 0 || c.space != gpxSpace:
			r.addf("%s: element %s does not belong there", n.name, c.name)
			continue
		case at < last:
			r.addf("%s: element %s comes too late", n.name, c.name)
		case at == last && !strings.HasSuffix(order[at], "*"):
			r.addf("%s: element %s comes twice", n.name, c.name)
		}
		last = at
	}
}
