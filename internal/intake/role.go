package intake

import (
	"time"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// Role is one kind of input: all that flags, settings, reading, checks and documents
// know of it. A new one is a file with its value, as works.go, and its entry in Roles.
type Role struct {
	Name    string // its flag, its tables in the settings, its word in manifests
	Is      string // what it is, for documents, as in "planned works of others"
	Help    string // of its flag
	Many    bool   // it may be several files
	System  string // what the help of its reference system's flag says it is of; blank for a kind whose positions are not read
	Needed  bool   // no batch without it
	Passing string // the field whose ids are for findings alone; blank for none

	Rules func() []check.Rule // of the findings of its check
	// Digest sums up what the records say, where reach is made with them: a reach of other
	// water is another. It is nil for other roles.
	Digest func(Holder) string

	fields  []column.Field
	shapes  shapeKinds // that it takes; none for a kind whose geometry is not looked at
	records records
}

// Fields returns our names of its columns, in order.
func (r Role) Fields() []string { return column.FieldNames(r.fields) }

// InUnits returns the fields, in order, that may come in a unit of their own, or as dates
// in an order of their own.
func (r Role) InUnits() []string {
	var out []string
	for _, f := range r.fields {
		if f.In.Of != 0 || f.AsWritten {
			out = append(out, f.Name)
		}
	}
	return out
}

// Worded returns the fields, in order, whose words the settings map.
func (r Role) Worded() []string {
	var out []string
	for _, f := range r.fields {
		if f.Words != nil {
			out = append(out, f.Name)
		}
	}
	return out
}

// Given is what a role is read from and checked against.
type Given struct {
	Sources []format.Source
	Options func(format.Source) (Options, error) // how a file is read
	Against
}

// Against is what the checks of a batch hold its records against.
type Against struct {
	Quarter      survey.Quarter // zero for none: no date is too early or too late
	First        survey.Day     // that counts; zero for all
	JoinDistance geo.Meters
	Setback      geo.Meters
	LargestPatch geo.SquareMeters
}

// Begin returns the first day of the quarter; zero for none.
func (a Against) Begin() time.Time {
	if a.Quarter.IsZero() {
		return time.Time{}
	}
	return a.Quarter.Begin()
}

// FirstDay returns the first day that counts; zero for all.
func (a Against) FirstDay() time.Time {
	if a.Quarter.IsZero() {
		return time.Time{}
	}
	return a.First.Time()
}

// End returns the last day of the quarter; zero for none.
func (a Against) End() time.Time {
	if a.Quarter.IsZero() {
		return time.Time{}
	}
	return a.Quarter.End()
}

// Taken is what was read of a role, and checked.
type Taken struct {
	Files    []File
	Accepted []int             // records, by file; of points 0: they are counted when all is read
	Findings [][]check.Finding // of each check, sorted
	Points   *PointsTaken      // of points alone

	put func(Holder)
}

// PointsTaken is what survey points give beside their records.
type PointsTaken struct {
	Extra []string       // names of the columns carried through
	Dated []survey.Dated // how many records were given, by quarter
	Aside []survey.Aside // by file
}

// Holder holds the records of a batch: the addresses of one slice for each type of
// record.
type Holder interface{ Slots() []any }

// Put puts the records where they belong.
func (t *Taken) Put(h Holder) { t.put(h) }

// Read reads and checks all files of a role.
func (r Role) Read(g Given) (Taken, error) { return r.records.read(g) }

// Values calls yield with the value of a field, as it was understood, of each record
// that came from a file; never for points, whose values the dictionary writes.
func (r Role) Values(h Holder, file, field string, yield func(string)) {
	r.records.values(h, file, field, yield)
}

// records is what a role does with its records, whatever their type.
type records interface {
	read(g Given) (Taken, error)
	values(h Holder, file, field string, yield func(string))
}
