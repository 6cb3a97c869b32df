package survey

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

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

// beside finds where finds of two observers lie within the uncertainty of their positions, under
// different ids: if they are the same plants, their acres count twice.
type beside struct {
	observers map[string]int32 // by name: their number
	last      string           // the observer of the find before, and their number
	by        int32
	numbers   map[[2]int32]int32 // of cells with finds
	whose     []int32            // by cell: the observer of its finds; several for more than one
	cells     []int32            // by record: the number of its cell; -1 for what is not compared
}

const several = -1

func newBeside() beside {
	return beside{observers: map[string]int32{}, numbers: map[[2]int32]int32{}}
}

// observer returns the number of an observer.
func (b *beside) observer(name string) int32 {
	if name == b.last {
		return b.by
	}
	by, known := b.observers[name]
	if !known {
		by = int32(len(b.observers)) + 1 // 0 is nobody
		b.observers[strings.Clone(name)] = by
	}
	b.last, b.by = name, by
	return by
}

// next is given one accepted record after another, sorted by id.
func (b *beside) next(r *Record) {
	if !counts(r) {
		b.cells = append(b.cells, -1)
		return
	}
	by, cell := b.observer(r.RecordedBy()), cellOf(r)
	number, known := b.numbers[cell]
	if !known {
		number = int32(len(b.whose))
		b.numbers[cell] = number
		b.whose = append(b.whose, by)
	}
	if b.whose[number] != by {
		b.whose[number] = several
	}
	b.cells = append(b.cells, number)
}

// crews are two observers, in the order of their names.
type crews struct{ a, b string }

// met says how often finds of two crews lie at one place, and the first of them.
type met struct{ times, first, other int }

// placed is a find in a mixed cell.
type placed struct {
	at     orb.Point
	within geo.Meters
	by     string
	record int
}

// end warns of pairs of observers who lie beside each other often.
func (b *beside) end(c *checker, at func(int) *Record) {
	pairs := map[crews]met{}
	if near := b.mixed(); near != nil {
		pairs = b.pairs(c, near, at)
	}
	for _, pair := range slices.SortedFunc(maps.Keys(pairs), func(x, y crews) int { return cmp.Or(cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b)) }) {
		if m := pairs[pair]; m.times >= fewestBoth {
			first, other := at(m.first), at(m.other)
			c.Report(first, ruleTwoCrews, "recordedBy", first.RecordedBy(), fmt.Sprintf(
				"%d finds of %s and %s lie within the uncertainty of their positions, the first of them %s and %s; all were kept, and if they are the same plants, their acres count twice",
				m.times, pair.a, pair.b, other.ID, first.ID))
		}
	}
	b.numbers, b.whose, b.cells = nil, nil, nil
}

// pairs returns how often finds of two observers lie at one place. near says so of cells.
func (b *beside) pairs(c *checker, near []bool, at func(int) *Record) map[crews]met {
	grid, pairs := earth.NewGrid(crewsApart), map[crews]met{}
	var all []placed
	hit := map[string]int{} // by observer: a find of theirs at the place at hand
	for i, cell := range b.cells {
		if cell < 0 || !near[cell] {
			continue
		}
		r := at(i)
		find := placed{r.Position, c.options.uncertainty(r), r.RecordedBy(), i}
		clear(hit)
		beside := 0
		grid.Near(find.at, func(k int32) bool {
			other := &all[k]
			if other.by == find.by {
				beside++
			} else if _, known := hit[other.by]; !known && earth.Distance(find.at, other.at) <= min(crewsApart, find.within+other.within) {
				hit[other.by] = other.record
			}
			return true
		})
		for whose, k := range hit {
			pair := crews{min(find.by, whose), max(find.by, whose)}
			m, known := pairs[pair]
			if !known {
				m.first, m.other = i, k
			}
			m.times++
			pairs[pair] = m
		}
		if beside < mostBeside {
			grid.Add(int32(len(all)), find.at)
			all = append(all, find)
		}
	}
	return pairs
}

// mixed says of each cell whether finds of more than one observer are in it and beside it; nil if that is
// so of none. Most records lie in others: a crew walks alone.
func (b *beside) mixed() []bool {
	var mixed []bool
	for cell, number := range b.numbers { // each by itself
		by := b.whose[number]
		for beside := range 9 {
			other, there := b.numbers[[2]int32{cell[0] + int32(beside%3) - 1, cell[1] + int32(beside/3) - 1}]
			if by == several || there && b.whose[other] != by {
				if mixed == nil {
					mixed = make([]bool, len(b.whose))
				}
				mixed[number] = true
				break
			}
		}
	}
	return mixed
}

// counts says whether a record is a find by somebody who is named. Drawn patches are left out: their
// overlap is counted once.
func counts(r *Record) bool { return r.Detected && r.Outline == nil && r.RecordedBy() != "" }

// cellOf returns a cell of a thousandth of a degree, which is wider than crewsApart up to 79 degrees.
func cellOf(r *Record) [2]int32 {
	return [2]int32{int32(math.Floor(r.Position[0] * 1000)), int32(math.Floor(r.Position[1] * 1000))}
}
