package flow

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// cells divides the globe into rows of latitude, and each row into columns of longitude at least as
// wide as the row is high. Columns continue round the globe, so the antimeridian needs no special
// case.
type cells struct{ height float64 } // degrees of latitude

// newCells returns cells at least size metres across.
func newCells(size float64) cells {
	// the shortest degree of latitude, at the equator, is 110574 m
	const shortestDegree = 110574
	// 1e-7 degrees is the finest coordinate in the outputs
	return cells{height: min(max(size/shortestDegree, 1e-7), 10)}
}

// row returns the row of a latitude.
func (c cells) row(lat float64) int32 { return int32(math.Floor((lat + 90) / c.height)) }

// columns returns how many columns a row has.
func (c cells) columns(row int32) float64 {
	south := float64(row)*c.height - 90
	poleward := max(math.Abs(south), math.Abs(south+c.height))
	if poleward >= 89.9 {
		return 1
	}
	// an eighth of a millionth covers the rounding of the cosine
	return max(1, math.Floor(360*math.Cos(poleward*math.Pi/180)/c.height*(1-1e-7)))
}

// column returns the column of a longitude in a row with the given number of columns.
func column(lon, columns float64) int32 {
	x := math.Floor((earth.Wrap(lon) + 180) / 360 * columns)
	return int32(min(x, columns-1))
}

// key returns one number for a cell.
func key(row, column int32) uint64 { return uint64(uint32(row))<<32 | uint64(uint32(column)) }

// cellOf returns the key of the cell that a position lies in.
func (c cells) cellOf(p orb.Point) uint64 {
	row := c.row(p[1])
	return key(row, column(p[0], c.columns(row)))
}

// box is a box in degrees; its longitudes may exceed 180 in either direction.
type box struct{ west, south, east, north float64 }

// grown returns the box with metres added on every side.
func (b box) grown(metres float64) box {
	_, perLat := earth.LocalScale(0)
	dLat := metres / perLat
	poleward := min(max(math.Abs(b.south-dLat), math.Abs(b.north+dLat)), 89.9)
	perLon, _ := earth.LocalScale(poleward)
	dLon := metres / perLon
	return box{b.west - dLon, b.south - dLat, b.east + dLon, b.north + dLat}
}

// eachCell calls visit with every cell that the box touches, until visit
// returns false.
func (c cells) eachCell(b box, visit func(key uint64) bool) {
	for row := c.row(b.south); row <= c.row(b.north); row++ {
		columns := c.columns(row)
		first := column(b.west, columns)
		last := int32(columns - 1)
		if b.east-b.west < 360 {
			span := column(b.east, columns) - first
			if span < 0 {
				span += int32(columns)
			}
			if span == 0 && b.east-b.west > 180 {
				span = last
			}
			last = first + span
		} else {
			last += first
		}
		for x := first; x <= last; x++ {
			wrapped := x
			if wrapped >= int32(columns) {
				wrapped -= int32(columns)
			}
			if !visit(key(row, wrapped)) {
				return
			}
		}
	}
}

// buckets is a hash table from cells to chains of numbers.
type buckets struct {
	keys []uint64
	head []int32 // 1 + first number, 0 for an empty slot
	next []int32 // 1 + next number of the chain, by number
	mask uint64
}

// newBuckets returns room for numbers 0 to n-1.
func newBuckets(n int) *buckets {
	size := 16
	for size < 2*n {
		size *= 2
	}
	return &buckets{make([]uint64, size), make([]int32, size), make([]int32, n), uint64(size - 1)}
}

// slot returns the slot of a key, or the free slot where it belongs.
func (b *buckets) slot(key uint64) uint64 {
	h := key
	// the finaliser of MurmurHash3 (Appleby, public domain) as a mixing step
	h ^= h >> 33
	h *= 0xff51afd7ed558ccd
	h ^= h >> 33
	h *= 0xc4ceb9fe1a85ec53
	h ^= h >> 33
	for h &= b.mask; b.head[h] != 0 && b.keys[h] != key; h = (h + 1) & b.mask {
	}
	return h
}

// put adds a number to the chain of a key.
func (b *buckets) put(key uint64, number int32) {
	s := b.slot(key)
	b.keys[s] = key
	b.next[number] = b.head[s]
	b.head[s] = number + 1
}

// first returns the first number of a key's chain, -1 for none.
func (b *buckets) first(key uint64) int32 { return b.head[b.slot(key)] - 1 }

// after returns the number that follows in the chain, -1 for none.
func (b *buckets) after(number int32) int32 { return b.next[number] - 1 }

// boxOf returns the box around a path of at least one vertex. Its longitudes continue from the
// first vertex, without a jump at the antimeridian.
func boxOf(path orb.LineString) box {
	lon := path[0][0]
	b := box{lon, path[0][1], lon, path[0][1]}
	for i := 1; i < len(path); i++ {
		lon += earth.Wrap(path[i][0] - path[i-1][0])
		b.west, b.east = min(b.west, lon), max(b.east, lon)
		b.south, b.north = min(b.south, path[i][1]), max(b.north, path[i][1])
	}
	return b
}

// holds reports whether a position lies in the box.
func (b box) holds(p orb.Point) bool {
	if p[1] < b.south || p[1] > b.north {
		return false
	}
	middle := (b.west + b.east) / 2
	return math.Abs(earth.Wrap(p[0]-middle)) <= (b.east-b.west)/2
}

// mayMeet reports whether two boxes overlap or touch; it may say so of boxes up to 1e-9 degrees apart in
// longitude, since that is rounded.
func (b box) mayMeet(o box) bool {
	if b.south > o.north || o.south > b.north {
		return false
	}
	apart := earth.Wrap((b.west+b.east)/2 - (o.west+o.east)/2)
	return math.Abs(apart) <= (b.east-b.west+o.east-o.west)/2+1e-9
}

// cellCount returns roughly how many cells a box touches.
func (c cells) cellCount(b box) float64 {
	middle := math.Cos((b.south + b.north) / 2 * math.Pi / 180)
	return ((b.north-b.south)/c.height + 1) * ((b.east-b.west)*middle/c.height + 1)
}
