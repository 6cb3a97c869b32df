package unit

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/check"
)

// sliver is the largest area of overlaps and gaps that are not reported. Our choice: a
// four-hundredth of an acre, less than the precision of any surveyed boundary.
const sliver geo.SquareMeters = 10

// mostOverlaps is the largest number of overlapping pairs of units that are examined. Our choice:
// twice the number of findings of one kind that are listed one by one, check.DefaultLimit.
const mostOverlaps = 2 * check.DefaultLimit

// partition reports where units overlap, and the ground they enclose without containing it.
// Outlines stay as drawn. When acreage is divided by units, overlapping ground goes to the unit
// with the first id, and ground in a gap to none. A gap that is open to the outside cannot be
// distinguished from the outside.
func (c *checker) partition(units []Unit) {
	areas := sameTurn(units)
	overlaps, all := shape.Overlaps(areas, sliverInDegrees(), mostOverlaps)
	for _, o := range overlaps {
		size := earth.Area(o.Shared)
		if size <= sliver {
			continue
		}
		first, second := &units[o.First], &units[o.Second]
		c.Add(second.finding(ruleOverlap, placeOf(o.Shared), areaText(size), fmt.Sprintf("the unit overlaps %s by %s, which count for %s alone", first.ID, areaText(size), first.ID)))
	}
	if !all {
		last := &units[overlaps[len(overlaps)-1].Second]
		c.Add(last.finding(ruleOverlaps, nil, "", fmt.Sprintf("more than %d pairs of units overlap; those after this unit were not looked into", mostOverlaps)))
	}
	for _, g := range shape.Gaps(areas) {
		ground := orb.MultiPolygon{g.Ground}
		size := earth.Area(ground)
		if size <= sliver {
			continue
		}
		c.Add(units[g.Beside].finding(ruleGap, placeOf(ground), areaText(size), fmt.Sprintf("units enclose %s that none of them holds; what is there counts as outside all units", areaText(size))))
	}
}

// finding is a finding about the unit's outline, with a position.
func (u *Unit) finding(rule check.Rule, at *orb.Point, value, message string) check.Finding {
	f := kind.Finding(u, rule, "geometry", value, message)
	f.Position = at
	return f
}

func areaText(size geo.SquareMeters) string {
	return fmt.Sprintf("%.0f m2 (%.3f ac)", float64(size), float64(size.Acres()))
}

// placeOf returns a corner of the ground.
func placeOf(ground orb.MultiPolygon) *orb.Point {
	p := ground[0][0][0]
	return &orb.Point{earth.Turned(p[0]), p[1]}
}

// sameTurn returns the units' areas with comparable longitudes: where an area reaches 180 or
// continues past it, areas of the western hemisphere are moved by one turn.
func sameTurn(units []Unit) []orb.MultiPolygon {
	areas := make([]orb.MultiPolygon, len(units))
	past := false
	for i := range units {
		areas[i] = units[i].Areas
		past = past || areas[i].Bound().Max[0] >= 180
	}
	for i := range areas {
		if past && areas[i].Bound().Max[0] < 0 {
			areas[i] = areas[i].Clone()
			for _, polygon := range areas[i] {
				for _, ring := range polygon {
					for k := range ring {
						ring[k][0] += 360
					}
				}
			}
		}
	}
	return areas
}

// sliverInDegrees is an area in square degrees that is smaller than a sliver at any unit.
func sliverInDegrees() float64 {
	// a square degree covers most ground at the equator
	perLon, perLat := earth.LocalScale(0)
	return 0.5 * float64(sliver) / (perLon * perLat)
}
