package geo

import (
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"
)

// BytesOfPoint is the number of bytes of a point.
const BytesOfPoint = 16

// AppendPoint adds a point to b, to the last bit.
func AppendPoint(b []byte, p orb.Point) []byte {
	b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[0]))
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(p[1]))
}

// PointOf returns the point that AppendPoint wrote at the beginning of b.
func PointOf(b []byte) orb.Point {
	return orb.Point{math.Float64frombits(binary.LittleEndian.Uint64(b)), math.Float64frombits(binary.LittleEndian.Uint64(b[8:]))}
}
