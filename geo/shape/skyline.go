package shape

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Skyline is an area as strips under its edges: the strips under upper edges less those under lower
// edges. It can be cut with one area after another and measured without building an outline.
// Coinciding and touching outlines need no special care.
type Skyline struct {
	tops  []top
	reach orb.Bound // coordinates of tops are relative to its lower left corner
}

// SkylineOf returns the skyline of an area, which must be valid, see MakeValid.
func SkylineOf(mp orb.MultiPolygon) Skyline {
	reach := mp.Bound()
	return Skyline{topsWithin(mp, reach), reach}
}

// Area returns the planar area.
func (s Skyline) Area() geo.SquareMeters {
	total := 0.0
	for _, t := range s.tops {
		total += t.sign * (t.right - t.left) * (t.at(t.left) + t.at(t.right)) / 2
	}
	return geo.SquareMeters(max(0, total))
}

// Shared returns the planar area in common with mp, which must be valid. Rounding is about 1e-12 of
// the skyline's box for each area it was cut with.
func (s Skyline) Shared(mp orb.MultiPolygon) geo.SquareMeters {
	return geo.SquareMeters(max(0, sharedBy(s.tops, topsWithin(mp, s.reach))))
}

// Cut returns the part of s in common with mp, which must be valid: one or two strips for every
// pair of edges that overlap in x.
func (s Skyline) Cut(mp orb.MultiPolygon) Skyline {
	out := Skyline{reach: s.reach}
	eachPair(s.tops, aboveGround(topsWithin(mp, s.reach)), func(p, q top) {
		out.tops = appendLower(out.tops, p, q)
	})
	return out
}

// aboveGround cuts off the parts of tops below the corner they are relative to. No part of the area
// is there, and the strips of a cut must not reach below it.
func aboveGround(tops []top) []top {
	kept := tops[:0]
	for _, t := range tops {
		a, b := t.start, t.at(t.right)
		if max(a, b) <= 0 {
			continue
		}
		if min(a, b) < 0 {
			x := t.left - a/t.slope
			if a < 0 {
				t.left, t.start = x, 0
			} else {
				t.right = x
			}
		}
		kept = append(kept, t)
	}
	return kept
}

// appendLower appends the lower of p and q over their common x range.
func appendLower(tops []top, p, q top) []top {
	left, right, sign := max(p.left, q.left), min(p.right, q.right), p.sign*q.sign
	piece := func(of top, from, to float64) {
		if to > from {
			tops = append(tops, top{from, to, of.at(from), of.slope, sign})
		}
	}
	d0, d1 := p.at(left)-q.at(left), p.at(right)-q.at(right)
	if d0 > 0 || d0 == 0 && d1 > 0 {
		p, q, d0, d1 = q, p, -d0, -d1
	}
	if d1 <= 0 {
		piece(p, left, right)
		return tops
	}
	x := left + (right-left)*d0/(d0-d1)
	piece(p, left, x)
	piece(q, x, right)
	return tops
}
