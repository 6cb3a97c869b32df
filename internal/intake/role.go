package intake

import (
	"slices"
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
	records records
}

// Roles returns every kind of input, in the order of manifests and settings.
func Roles() []Role {
	return []Role{pointsRole(), streamsRole(), worksRole(), unitsRole(), surveyedRole(), treatmentsRole(), barriersRole(), waterRole(), correctionsRole()}
}

// RoleOf returns the role of a name; false for none.
func RoleOf(name string) (Role, bool) {
	roles := Roles()
	i := slices.IndexFunc(roles, func(r Role) bool { return r.Name == name })
	if i < 0 {
		return Role{}, false
	}
	return roles[i], true
}

// Fields returns our names of its columns, in order.
func (r Role) Fields() []string { return column.FieldNames(r.fields) }

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

// kind is the reading of a role whose records are of type R, from files of type F.
type kind[F, R any] struct {
	open   func(format.Source, Options) (F, []check.Finding, error)
	of     func(*F) (File, []R)
	check  func([]R, Against) ([]R, []check.Finding)
	file   func(*R) string         // that a record came from
	more   func(*R) []string       // other files that it came from; nil for none
	counts func(*R, Against) bool  // of those accepted; nil for all. Others are told of and left out
	value  func(*R, string) string // of a field, as it was understood; blank for none
}

func (k kind[F, R]) read(g Given) (Taken, error) {
	files, findings, err := readFiles(g, k.open)
	if err != nil {
		return Taken{}, err
	}
	parts := make([][]R, len(files))
	out := Taken{Files: make([]File, len(files)), Accepted: make([]int, len(files))}
	for i := range files {
		out.Files[i], parts[i] = k.of(&files[i])
	}
	accepted, told := k.check(concat(parts), g.Against)
	out.Findings = append(findings, told)
	at := map[string]int{}
	for i := range accepted {
		at[k.file(&accepted[i])]++
		if k.more != nil {
			for _, file := range k.more(&accepted[i]) {
				at[file]++
			}
		}
	}
	for i := range out.Files {
		out.Accepted[i] = at[out.Files[i].Name]
	}
	if k.counts != nil {
		accepted = slices.DeleteFunc(accepted, func(r R) bool { return !k.counts(&r, g.Against) })
	}
	out.put = func(h Holder) { *slot[R](h) = accepted }
	return out, nil
}

// values is Role.Values.
func (k kind[F, R]) values(h Holder, file, field string, yield func(string)) {
	all := *slot[R](h)
	for i := range all {
		if k.file(&all[i]) == file {
			yield(k.value(&all[i], field))
		}
	}
}

// digestOf is the Digest of a role whose records are of type R.
func digestOf[R any](digest func([]R) string) func(Holder) string {
	return func(h Holder) string { return digest(*slot[R](h)) }
}

// slot returns the address of the records of a type.
func slot[R any](h Holder) *[]R {
	for _, at := range h.Slots() {
		if records, ok := at.(*[]R); ok {
			return records
		}
	}
	panic("no place for records of this type")
}

// readFiles reads every file of a role.
func readFiles[F any](g Given, open func(format.Source, Options) (F, []check.Finding, error)) ([]F, [][]check.Finding, error) {
	files, findings := make([]F, 0, len(g.Sources)), make([][]check.Finding, 0, len(g.Sources)+1)
	for _, source := range g.Sources {
		options, err := g.Options(source)
		if err != nil {
			return nil, nil, err
		}
		file, told, err := open(source, options)
		if err != nil {
			return nil, nil, err
		}
		files, findings = append(files, file), append(findings, told)
	}
	return files, findings, nil
}

// concat returns the records of all files: those of a single one as they are, which
// its reader has no more use for.
func concat[R any](parts [][]R) []R {
	if len(parts) == 1 {
		return parts[0]
	}
	return slices.Concat(parts...)
}
