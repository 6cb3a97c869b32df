package survey

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// crewsApart is how far apart positions may be that are taken for one plant here. Our choice.
const crewsApart geo.Meters = 20

// Our choices.
const (
	fewestBoth = 3  // so many finds of two crews at one place are told; one or two are neighbours
	mostBeside = 64 // finds of one crew kept within crewsApart, so that a thicket costs no more than a row
)

// crews are two observers, in the order of their names.
type crews struct{ a, b string }

// met says how often finds of two crews lie at one place, and the first of them.
type met struct{ times, first, other int }

// findTwoCrews warns where finds of two observers lie within the uncertainty of their positions, under
// different ids: if they are the same plants, their acres count twice. The records must be sorted by
// id.
func (c *checker) findTwoCrews(records []Record) {
	near := mixedCells(records)
	if len(near) == 0 {
		return
	}
	grid, pairs := earth.NewGrid(crewsApart), map[crews]met{}
	hit := map[string]int{} // by observer: a find of theirs at the place at hand
	for i := range records {
		r := &records[i]
		by := r.Told().RecordedBy
		if !counts(r) || !near[cellOf(r)] {
			continue
		}
		clear(hit)
		beside := 0
		grid.Near(r.Position, func(k int32) bool {
			other := &records[k]
			if whose := other.Told().RecordedBy; whose == by {
				beside++
			} else if _, known := hit[whose]; !known && earth.Distance(r.Position, other.Position) <= min(crewsApart, c.options.uncertainty(r)+c.options.uncertainty(other)) {
				hit[whose] = int(k)
			}
			return true
		})
		for whose, k := range hit {
			pair := crews{min(by, whose), max(by, whose)}
			m, known := pairs[pair]
			if !known {
				m.first, m.other = i, k
			}
			m.times++
			pairs[pair] = m
		}
		if beside < mostBeside {
			grid.Add(int32(i), r.Position)
		}
	}
	for _, pair := range slices.SortedFunc(maps.Keys(pairs), func(x, y crews) int { return cmp.Or(cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b)) }) {
		if m := pairs[pair]; m.times >= fewestBoth {
			c.Report(&records[m.first], ruleTwoCrews, "recordedBy", records[m.first].Told().RecordedBy, fmt.Sprintf(
				"%d finds of %s and %s lie within the uncertainty of their positions, the first of them %s and %s; all were kept, and if they are the same plants, their acres count twice",
				m.times, pair.a, pair.b, records[m.other].ID, records[m.first].ID))
		}
	}
}

// counts says whether a record is a find by somebody who is named. Drawn patches are left out: their
// overlap is counted once.
func counts(r *Record) bool { return r.Detected && r.Outline == nil && r.Told().RecordedBy != "" }

// cellOf returns a cell of a thousandth of a degree, which is wider than crewsApart up to 79 degrees.
func cellOf(r *Record) [2]int32 {
	return [2]int32{int32(math.Floor(r.Position[0] * 1000)), int32(math.Floor(r.Position[1] * 1000))}
}

// mixedCells returns the cells that hold finds of one observer, and of another in them or beside them.
// Most records lie in others: a crew walks alone.
func mixedCells(records []Record) map[[2]int32]bool {
	const several = "\x00"
	whose := map[[2]int32]string{}
	for i := range records {
		if r := &records[i]; counts(r) {
			cell, by := cellOf(r), r.Told().RecordedBy
			if known, there := whose[cell]; there && known != by {
				by = several
			}
			whose[cell] = by
		}
	}
	mixed := map[[2]int32]bool{}
	for cell, by := range whose {
		for beside := range 9 {
			other, there := whose[[2]int32{cell[0] + int32(beside%3) - 1, cell[1] + int32(beside/3) - 1}]
			if by == several || there && other != by {
				mixed[cell] = true
			}
		}
	}
	return mixed
}
