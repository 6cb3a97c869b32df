package check

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// Kind is what the check of one kind of record says of its own: how its records are
// told apart, and its words and rules for what all kinds have alike.
type Kind[R any] struct {
	Noun    string                          // what messages call a record, as in "work"
	Origin  func(*R) (file string, row int) // where a record comes from
	At      func(*R) *orb.Point             // where a finding about it is shown; nil for nowhere
	Compare func(a, b *R) int               // orders by what records say, id, file and row apart

	Duplicate  Rule               // of a copy
	Copied     string             // what the finding about one says; blank for the usual words
	Same       func(a, b *R) bool // whether two neighbours in order are copies; nil for what Compare says
	KeepCopies bool               // they are reported and stay
	Misplaced  map[Misplaced]Rule // of positions that cannot be one, for Placed
	Corner     string             // what Placed calls a position
	Names      *Names[R]          // nil for a kind without ids
}

// Names is how the records of a kind have ids.
type Names[R any] struct {
	Field        string                // of the id
	ID           func(*R) *string      // where it stands
	NoID, SameID Rule                  //
	Other        string                // what the finding about another record with the id says; blank for the usual words
	Compare      func(a, b string) int // order of ids; nil for that of bytes
	PerFile      bool                  // a file none of whose records has an id is reported once
}

// Finding is one about a record.
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

// same says whether b is a copy of a, which comes before it.
func (k *Kind[R]) same(a, b *R) bool {
	if k.Same != nil {
		return k.Same(a, b)
	}
	return k.Compare(a, b) == 0
}

// compareOrigins orders records by file and row, which tell only copies apart.
func (k *Kind[R]) compareOrigins(a, b *R) int {
	fileA, rowA := k.Origin(a)
	fileB, rowB := k.Origin(b)
	return cmp.Or(strings.Compare(fileA, fileB), cmp.Compare(rowA, rowB))
}

// Degrees writes a position as findings show it.
func Degrees(p orb.Point) string { return fmt.Sprintf("%g %g", p[0], p[1]) }

// Shown returns where a finding about a position is shown, its longitude between -180
// and 180 degrees; nil where the position cannot be one.
func Shown(p orb.Point) *orb.Point {
	if PositionOf(p) != WellPlaced {
		return nil
	}
	return &orb.Point{earth.Turned(p[0]), p[1]}
}

// ShownFirst is Shown of the first position of the first path; nil for none.
func ShownFirst[P ~[]orb.Point](paths []P) *orb.Point {
	if len(paths) == 0 || len(paths[0]) == 0 {
		return nil
	}
	return Shown(paths[0][0])
}
