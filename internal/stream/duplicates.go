package stream

import (
	"hash/maphash"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// dropCopies rejects copies: of lines with exactly the same vertices, in either direction, it keeps
// the one with the first id. Two lines on the same ground would carry the water twice. A coast may
// coincide with a stream. Lines must be sorted by id; it reuses their slice. Linear.
func (c *checker) dropCopies(lines []Centerline) []Centerline {
	seed := maphash.MakeSeed()
	first := map[uint64][]int{} // kept lines by the hash of their path
	kept := lines[:0]
	for i := range lines {
		l := lines[i]
		key := hashPath(seed, l.Path)
		at := slices.IndexFunc(first[key], func(k int) bool {
			return kept[k].Coast == l.Coast && sameGround(kept[k].Path, l.Path)
		})
		if at >= 0 {
			of := kept[first[key][at]]
			c.Report(&l, ruleCopy, "geometry", of.ID, "the line lies vertex for vertex on line "+of.ID+"; it was rejected")
			continue
		}
		first[key] = append(first[key], len(kept))
		kept = append(kept, l)
	}
	clear(lines[len(kept):])
	return kept
}

// hashPath returns the same hash for a path and its reverse.
func hashPath(seed maphash.Seed, path orb.LineString) uint64 {
	var sum uint64
	for _, p := range path {
		sum += maphash.Comparable(seed, [2]uint64{math.Float64bits(p[0]), math.Float64bits(p[1])})
	}
	return sum
}

// sameGround reports whether two paths are the same, in either direction.
func sameGround(a, b orb.LineString) bool {
	if len(a) != len(b) {
		return false
	}
	if slices.EqualFunc(a, b, func(p, q orb.Point) bool { return geo.ComparePoints(p, q) == 0 }) {
		return true
	}
	for i := range a {
		if geo.ComparePoints(a[i], b[len(b)-1-i]) != 0 {
			return false
		}
	}
	return true
}
