package mapfile

import (
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"

	"driftreach/internal/work"
)

// Flags in the header of a geometry blob (OGC 12-128r18, section 2.1.3): little endian, and whether an
// envelope (west, east, south, north) follows.
const (
	blobPlain    byte = 0x01
	blobEnvelope byte = 0x03
)

// pack returns the blob of a shape: the header, with the envelope unless it is nil, and well-known
// binary. It extends the layer's box.
func (p *database) pack(g orb.Geometry, envelope *box) any {
	flags := blobPlain
	if envelope != nil {
		flags = blobEnvelope
	}
	p.blob = append(p.blob[:0], 'G', 'P', 0, flags)
	p.blob = binary.LittleEndian.AppendUint32(p.blob, wgs84ID)
	if e := envelope; e != nil {
		for _, n := range [4]int64{e.west, e.east, e.south, e.north} { // the order of the header
			p.blob = binary.LittleEndian.AppendUint64(p.blob, math.Float64bits(float64(n)/perDegree))
		}
		p.extend(*e)
	}
	p.blob = append(p.blob, wkb.MustMarshal(g, binary.LittleEndian)...)
	return p.blob
}

// extend extends the layer's box by that of a shape.
func (p *database) extend(around box) {
	p.around = around
	p.box.add(around.west, around.south, around.east, around.north)
}

// path returns places as a line and extends the envelope.
func path(places []place, envelope *box) orb.LineString {
	line := make(orb.LineString, len(places))
	for i, q := range places {
		line[i] = orb.Point{q.lon(), q.lat()}
	}
	envelope.addPlaces(places)
	return line
}

// point returns the blob of a point; nil if it is not a place on earth.
func (p *database) point(at orb.Point) any {
	if !finite(at) {
		return nil
	}
	q := wrapped(at)
	p.extend(box{any: true, west: q[0], east: q[0], south: q[1], north: q[1]})
	return p.pack(orb.Point{q.lon(), q.lat()}, nil)
}

// line returns the blob of a MultiLineString; nil if nothing is left of it.
func (p *database) line(ls orb.LineString) any {
	return p.paths(lines(ls))
}

// paths does the same for parts that have been cut already.
func (p *database) paths(parts [][]place) any {
	if len(parts) == 0 {
		return nil
	}
	var envelope box
	all := make(orb.MultiLineString, len(parts))
	for i, part := range parts {
		all[i] = path(part, &envelope)
	}
	return p.pack(all, &envelope)
}

// polygon returns the blob of a MultiPolygon; nil if nothing is left of it.
func (p *database) polygon(mp orb.MultiPolygon) any { return p.area(polygons(mp)) }

// outline does the same for an outline.
func (p *database) outline(o outline) any { return p.area(p.shapes.unpack(o, anyVertices)) }

// area does the same for polygons that are rounded already.
func (p *database) area(parts [][][]place) any {
	if len(parts) == 0 {
		return nil
	}
	var envelope box
	all := make(orb.MultiPolygon, len(parts))
	for i, rings := range parts {
		all[i] = make(orb.Polygon, len(rings))
		for k, ring := range rings {
			all[i][k] = orb.Ring(path(ring, &envelope))
		}
	}
	return p.pack(all, &envelope)
}

// points returns the blob of a MultiPoint; nil if there are none.
func (p *database) points(places []place) any {
	if len(places) == 0 {
		return nil
	}
	var envelope box
	return p.pack(orb.MultiPoint(path(places, &envelope)), &envelope)
}

// work returns the blob of a planned work's place; nil if nothing is left of it.
func (p *database) work(w *work.Work) any {
	switch {
	case len(w.Areas) > 0:
		return p.polygon(onGrid(w.Areas))
	case len(w.Lines) > 0:
		return p.paths(workLines(w))
	}
	return p.points(workPoints(w))
}
