package demo

import (
	"bytes"
	"encoding/json"
	"fmt"

	"github.com/paulmach/orb"
)

// attributes are a feature's properties.
type attributes map[string]any

// geometry is a GeoJSON geometry. The points of package orb encode as RFC 7946 requires.
type geometry struct {
	Type        string       `json:"type"`
	Coordinates orb.Geometry `json:"coordinates"`
}

// mapFeature is a GeoJSON feature.
type mapFeature struct {
	Type       string     `json:"type"`
	Geometry   geometry   `json:"geometry"`
	Properties attributes `json:"properties"`
}

func feature(g orb.Geometry, a attributes) mapFeature {
	return mapFeature{"Feature", geometry{g.GeoJSONType(), g}, a}
}

// collection returns features as GeoJSON, one a line so that a person can read the file. The keys of a
// feature are sorted.
func collection(features []mapFeature) []byte {
	var b bytes.Buffer
	b.WriteString("{\"type\": \"FeatureCollection\", \"features\": [\n")
	for i, f := range features {
		text, err := json.Marshal(f)
		if err != nil {
			panic(err) // cannot happen: it holds only our own numbers and texts
		}
		b.Write(text)
		if i < len(features)-1 {
			b.WriteByte(',')
		}
		b.WriteByte('\n')
	}
	b.WriteString("]}\n")
	return b.Bytes()
}

// writeStreams returns the centerlines.
func writeStreams(land country) []byte {
	var out []mapFeature
	for _, l := range land.lines {
		a := attributes{
			"stream_id": l.id, "waterBody": l.name, "stream_order": l.order,
			"bankfull_width_m": l.width, "divergence": l.branch,
		}
		if l.branch > 0 {
			a["flow_share"] = l.share
		}
		if l.barrier != "" {
			a["barrier"], a["barrier_pass"] = l.barrier, l.pass
		}
		out = append(out, feature(degreesLine(l.path), a))
	}
	return collection(out)
}

// writeBarriers returns barriers that are on no centerline: structures added to the programme's own
// list after the stream map was drawn.
func writeBarriers(land country) []byte {
	var out []mapFeature
	for i, x := range []crossing{
		{"LUP", 0.30, "culvert", 0.85},
		{"ORV", 0.48, "weir", 0.6},
	} {
		c := land.courses[courseIndex(land.courses, x.code)]
		out = append(out, feature(degrees(c.path[vertexAt(c, x.at)]), attributes{
			"barrier_id": fmt.Sprintf("B-%02d", i+1), "kind": x.kind, "barrier_pass": x.pass, "waterBody": c.name,
		}))
	}
	return collection(out)
}

// writeUnits returns the districts: the land divided in three by straight boundaries from a hill in the
// middle to the coast. Neighbours share the vertices of their boundary.
func writeUnits(land country) []byte {
	hill := orb.Point{1500, 600}
	n := len(land.coast) - 1
	var out []mapFeature
	for i, name := range districtNames {
		from, to := n*i/len(districtNames), n*(i+1)/len(districtNames)
		ring := orb.Ring{degrees(hill)}
		for _, p := range land.coast[from : to+1] {
			ring = append(ring, degrees(p))
		}
		ring = append(ring, ring[0])
		out = append(out, feature(orb.Polygon{ring}, attributes{
			"unit_id": "D" + string(rune('1'+i)), "unit_name": name,
		}))
	}
	return collection(out)
}
