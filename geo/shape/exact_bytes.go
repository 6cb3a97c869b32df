package shape

import (
	"encoding/binary"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// AppendPolygons adds polygons to b: the number of polygons, of rings and of vertices, and the vertices.
func AppendPolygons(b []byte, mp orb.MultiPolygon) []byte {
	b = binary.AppendUvarint(b, uint64(len(mp)))
	for _, polygon := range mp {
		b = binary.AppendUvarint(b, uint64(len(polygon)))
		for _, ring := range polygon {
			b = binary.AppendUvarint(b, uint64(len(ring)))
			for _, p := range ring {
				b = geo.AppendPoint(b, p)
			}
		}
	}
	return b
}

// PolygonsOf returns the polygons that AppendPolygons wrote.
func PolygonsOf(b []byte) orb.MultiPolygon {
	count := func() int {
		v, n := binary.Uvarint(b)
		b = b[n:]
		return int(v)
	}
	mp := make(orb.MultiPolygon, count())
	for i := range mp {
		mp[i] = make(orb.Polygon, count())
		for k := range mp[i] {
			ring := make(orb.Ring, count())
			for v := range ring {
				ring[v], b = geo.PointOf(b), b[geo.BytesOfPoint:]
			}
			mp[i][k] = ring
		}
	}
	return mp
}
