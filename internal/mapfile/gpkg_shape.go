package mapfile

import (
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"

	"driftreach/internal/work"
)

// The kinds of well-known binary (OGC 06-103r4, table 4).
const (
	wkbPoint             = 1
	wkbLine              = 2
	wkbPolygon           = 3
	wkbMultiPoint        = 4
	wkbMultiLine         = 5
	wkbMultiPolygon      = 6
	wkbNoEnvelope   byte = 0x01 // flags of the header: little endian
	wkbEnvelope     byte = 0x03 // and with west, east, south, north
)

// header begins the blob; the envelope is filled in by close.
func (p *database) header(flags byte) {
	p.blob = append(p.blob[:0], 'G', 'P', 0, flags)
	p.blob = binary.LittleEndian.AppendUint32(p.blob, wgs84ID)
	if flags == wkbEnvelope {
		p.blob = append(p.blob, make([]byte, 32)...)
	}
}

func (p *database) kind(k uint32) { p.blob = binary.LittleEndian.AppendUint32(append(p.blob, 1), k) }

func (p *database) count(n int) { p.blob = binary.LittleEndian.AppendUint32(p.blob, uint32(n)) }

func (p *database) number(v float64) {
	p.blob = binary.LittleEndian.AppendUint64(p.blob, math.Float64bits(v))
}

// path appends positions and widens the envelope.
func (p *database) path(path []place, envelope *box) {
	p.count(len(path))
	for _, q := range path {
		p.number(q.lon())
		p.number(q.lat())
	}
	envelope.addPlaces(path)
}

// close fills the envelope in and widens the layer's box.
func (p *database) close(e box) []byte {
	for k, n := range [4]int64{e.west, e.east, e.south, e.north} { // the header's order
		binary.LittleEndian.PutUint64(p.blob[8+8*k:], math.Float64bits(float64(n)/perDegree))
	}
	p.box.add(e.west, e.south, e.east, e.north)
	return p.blob
}

// point returns p's blob, nil when it is no place on earth.
func (p *database) point(at orb.Point) any {
	if !finite(at) {
		return nil
	}
	q := wrapped(at)
	p.box.add(q[0], q[1], q[0], q[1])
	p.header(wkbNoEnvelope)
	p.kind(wkbPoint)
	p.number(q.lon())
	p.number(q.lat())
	return p.blob
}

// line returns a MultiLineString's blob, nil when nothing is left of it.
func (p *database) line(ls orb.LineString) any {
	return p.paths(lines(ls))
}

// paths is line for parts that are ready.
func (p *database) paths(parts [][]place) any {
	if len(parts) == 0 {
		return nil
	}
	var envelope box
	p.header(wkbEnvelope)
	p.kind(wkbMultiLine)
	p.count(len(parts))
	for _, part := range parts {
		p.kind(wkbLine)
		p.path(part, &envelope)
	}
	return p.close(envelope)
}

// polygon returns a MultiPolygon's blob, nil when nothing is left of it.
func (p *database) polygon(mp orb.MultiPolygon) any {
	parts := polygons(mp)
	if len(parts) == 0 {
		return nil
	}
	var envelope box
	p.header(wkbEnvelope)
	p.kind(wkbMultiPolygon)
	p.count(len(parts))
	for _, rings := range parts {
		p.kind(wkbPolygon)
		p.count(len(rings))
		for _, ring := range rings {
			p.path(ring, &envelope)
		}
	}
	return p.close(envelope)
}

// points returns a MultiPoint's blob, nil when there are none.
func (p *database) points(places []place) any {
	if len(places) == 0 {
		return nil
	}
	var envelope box
	for i := range places {
		envelope.addPlaces(places[i : i+1])
	}
	p.header(wkbEnvelope)
	p.kind(wkbMultiPoint)
	p.count(len(places))
	for _, q := range places {
		p.kind(wkbPoint)
		p.number(q.lon())
		p.number(q.lat())
	}
	return p.close(envelope)
}

// work returns the blob of a planned work's place, nil when nothing is left of it.
func (p *database) work(w *work.Work) any {
	switch {
	case len(w.Areas) > 0:
		return p.polygon(w.Areas)
	case len(w.Lines) > 0:
		return p.paths(workLines(w))
	}
	return p.points(workPoints(w))
}
