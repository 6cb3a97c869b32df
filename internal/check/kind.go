package check

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// Kind describes one kind of record to the checks: how to compare its records, and its own words and
// rules for the checks that all kinds share.
type Kind[R any] struct {
	Noun    string                          // what messages call a record, such as "work"
	Origin  func(*R) (file string, row int) // file and row of a record
	At      func(*R) *orb.Point             // where a finding about it is shown on the map; nil for nowhere
	Compare func(a, b *R) int               // compares contents, without id, file and row

	Duplicate  Rule               // for a copy
	Copied     string             // message of that finding; blank for the usual one
	Same       func(a, b *R) bool // whether two neighbours in sorted order are copies; nil to use Compare
	KeepCopies bool               // copies are reported but kept
	Misplaced  map[Misplaced]Rule // for implausible positions, used by Placed
	Corner     string             // what Placed calls a position
	Names      *Names[R]          // nil for a kind without ids
}

// Names says how the records of a kind use ids.
type Names[R any] struct {
	Field        string                // name of the id field
	ID           func(*R) *string      // pointer to the id
	NoID, SameID Rule                  //
	Other        string                // message for another record with the same id; blank for the usual one
	Compare      func(a, b string) int // order of ids; nil for byte order
	PerFile      bool                  // a file in which no record has an id is reported once
}

// Finding returns a finding about a record.
func (k *Kind[R]) Finding(r *R, rule Rule, field, value, message string) Finding {
	file, row := k.Origin(r)
	id := ""
	if k.Names != nil {
		id = *k.Names.ID(r)
	}
	f := Finding{Rule: rule, File: file, Record: Label(id, file, row), Field: field, Value: value, Message: message}
	if k.At != nil {
		f.Position = k.At(r)
	}
	return f
}

// same says whether b is a copy of a. In sorted order a comes before b.
func (k *Kind[R]) same(a, b *R) bool {
	if k.Same != nil {
		return k.Same(a, b)
	}
	return k.Compare(a, b) == 0
}

// compareOrigins orders records by file and row. Only exact copies need this.
func (k *Kind[R]) compareOrigins(a, b *R) int {
	fileA, rowA := k.Origin(a)
	fileB, rowB := k.Origin(b)
	return cmp.Or(strings.Compare(fileA, fileB), cmp.Compare(rowA, rowB))
}

// Degrees formats a position for a finding.
func Degrees(p orb.Point) string { return fmt.Sprintf("%g %g", p[0], p[1]) }

// Shown returns where a finding about a position is shown, with longitude between -180 and 180 degrees;
// nil if the position is implausible.
func Shown(p orb.Point) *orb.Point {
	if PositionOf(p) != WellPlaced {
		return nil
	}
	return &orb.Point{earth.Turned(p[0]), p[1]}
}

// ShownFirst does the same for the first position of the first path; nil for none.
func ShownFirst[P ~[]orb.Point](paths []P) *orb.Point {
	if len(paths) == 0 || len(paths[0]) == 0 {
		return nil
	}
	return Shown(paths[0][0])
}
