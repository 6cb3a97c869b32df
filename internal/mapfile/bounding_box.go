package mapfile

import "math"

// box collects the bounds of what is written, in steps. Longitudes are kept twice: as they are, and
// counted from 0 to 360. A collection across the antimeridian therefore gets a box that crosses it (RFC
// 7946, section 5.2), not one around the whole earth.
type box struct {
	any          bool
	south, north int64
	west, east   int64 // within 180 degrees
	low, high    int64 // counted eastward from 0 to 360 degrees
	straddles    bool  // some piece crosses longitude 0
}

// addPlaces extends the box by one connected piece.
func (b *box) addPlaces(piece []place) {
	if len(piece) == 0 {
		return
	}
	west, east := piece[0][0], piece[0][0]
	south, north := piece[0][1], piece[0][1]
	for _, p := range piece[1:] {
		west, east = min(west, p[0]), max(east, p[0])
		south, north = min(south, p[1]), max(north, p[1])
	}
	b.add(west, south, east, north)
}

func (b *box) add(west, south, east, north int64) {
	if !b.any {
		*b = box{any: true, south: south, north: north, west: west, east: east, low: math.MaxInt64, high: math.MinInt64}
	}
	b.south, b.north = min(b.south, south), max(b.north, north)
	b.west, b.east = min(b.west, west), max(b.east, east)
	if west < 0 && east > 0 {
		b.straddles = true
	}
	if west < 0 {
		west, east = west+2*halfTurn, east+2*halfTurn
	}
	b.low, b.high = min(b.low, west), max(b.high, east)
}

// bounds returns west, south, east, north; west is greater than east when the
// narrower box crosses the antimeridian.
func (b *box) bounds() (west, south, east, north int64) {
	if !b.straddles && b.high-b.low < b.east-b.west {
		return b.low, b.south, b.high - 2*halfTurn, b.north
	}
	return b.west, b.south, b.east, b.north
}

// append appends the box as a JSON array.
func (b *box) append(buf []byte) []byte {
	west, south, east, north := b.bounds()
	buf = append(buf, '[')
	for i, n := range [...]int64{west, south, east, north} {
		if i > 0 {
			buf = append(buf, ',')
		}
		buf = appendDegrees(buf, n)
	}
	return append(buf, ']')
}
