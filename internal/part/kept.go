package part

import (
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"
)

// appendArea adds polygons to b: the number of polygons, of rings and of vertices, and the vertices.
func appendArea(b []byte, mp orb.MultiPolygon) []byte {
	b = binary.AppendUvarint(b, uint64(len(mp)))
	for _, polygon := range mp {
		b = binary.AppendUvarint(b, uint64(len(polygon)))
		for _, ring := range polygon {
			b = binary.AppendUvarint(b, uint64(len(ring)))
			for _, p := range ring {
				b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[0]))
				b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[1]))
			}
		}
	}
	return b
}

// areaOf returns the polygons of which b was made.
func areaOf(b []byte) orb.MultiPolygon {
	count := func() int {
		v, n := binary.Uvarint(b)
		b = b[n:]
		return int(v)
	}
	number := func() float64 {
		v := math.Float64frombits(binary.LittleEndian.Uint64(b))
		b = b[8:]
		return v
	}
	mp := make(orb.MultiPolygon, count())
	for i := range mp {
		mp[i] = make(orb.Polygon, count())
		for k := range mp[i] {
			ring := make(orb.Ring, count())
			for v := range ring {
				ring[v] = orb.Point{number(), number()}
			}
			mp[i][k] = ring
		}
	}
	return mp
}
