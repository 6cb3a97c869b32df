package intake

import (
	"time"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// Role is one kind of input: everything that flags, settings, reading, checks and documents need to
// know about it. To add a role, write a file with its value, such as works.go, and add it to Roles.
type Role struct {
	Name    string // name of its flag, of its tables in the settings, and in manifests
	Is      string // what it is, for documents, such as "planned works of others"
	Help    string // help text of its flag
	Many    bool   // there may be several files
	System  string // whose reference system it is, for that flag's help; blank if positions are not read
	Needed  bool   // every batch must have it
	Passing string // the field whose ids only findings use; blank for none

	Rules func() []check.Rule // the rules of its check
	// Digest returns a hash of the records on which reach depends: other water gives another reach. It
	// is nil for roles that do not affect reach.
	Digest func(Holder) string

	fields  []column.Field
	shapes  shapeKinds // accepted geometries; none if geometry is ignored
	records records
}

// Fields returns our names of its columns, in order.
func (r Role) Fields() []string { return column.FieldNames(r.fields) }

// InUnits returns the fields, in order, whose columns may have another unit or, for dates,
// another order of day and month.
func (r Role) InUnits() []string {
	var out []string
	for _, f := range r.fields {
		if f.In.Of != 0 || f.AsWritten {
			out = append(out, f.Name)
		}
	}
	return out
}

// Worded returns the fields, in order, whose words the settings can map.
func (r Role) Worded() []string {
	var out []string
	for _, f := range r.fields {
		if f.Words != nil {
			out = append(out, f.Name)
		}
	}
	return out
}

// Given is the input of a role, and what it is checked against.
type Given struct {
	Sources []format.Source
	Options func(format.Source) (Options, error) // how a file is read
	Against
}

// Against holds what the records of a batch are checked against.
type Against struct {
	Quarter      survey.Quarter // zero for none: then no date is too early or too late
	First        survey.Day     // first day that counts; zero for all
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

// Taken is what was read for a role, and checked.
type Taken struct {
	Files    []File
	Accepted []int             // accepted records by file; 0 for points, which are counted at the end
	Findings [][]check.Finding // by check, sorted
	Points   *PointsTaken      // for points only

	put func(Holder)
}

// PointsTaken is what survey points give besides their records.
type PointsTaken struct {
	Extra []string       // names of the columns carried through
	Dated []survey.Dated // number of input records by quarter
	Aside []survey.Aside // by file
}

// Holder holds the records of a batch. Slots returns pointers to its slices, one for each type of
// record.
type Holder interface{ Slots() []any }

// Put stores the records in the slice of their type.
func (t *Taken) Put(h Holder) { t.put(h) }

// Read reads and checks all files of a role.
func (r Role) Read(g Given) (Taken, error) { return r.records.read(g) }

// Values calls yield with the value of a field, as it was understood, for each record from a file. It
// does nothing for points, whose values the dictionary writes.
func (r Role) Values(h Holder, file, field string, yield func(string)) {
	r.records.values(h, file, field, yield)
}

// records is what a role does with its records, independent of their type.
type records interface {
	read(g Given) (Taken, error)
	values(h Holder, file, field string, yield func(string))
}
