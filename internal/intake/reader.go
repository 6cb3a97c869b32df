// Package intake turns files into records of every kind: features of whatever format
// (internal/format) have their columns understood as our fields, by name, unit and
// word, and each kind of input makes records of them. What cannot be understood is a
// finding; only a file of which nothing can be made is an error.
package intake

import (
	"bytes"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/format/detect"
)

// File is what was read of a file as a whole.
type File struct {
	Name     string // as the user named it
	Format   string // CSV, spreadsheet, GeoJSON, GeoPackage, GeoParquet, Shapefile, GPX or KML
	System   string // name of the reference system its positions were read in
	Encoding string // of the text
	Read     int    // records met
	Rejected int    // of those, records that reading rejected; the checks of the batch may reject more
	SHA256   string // of the bytes, in hexadecimal
	Bytes    int64
	Columns  []column.Report // how the columns were understood
	Parts    []format.Part   // other files that belong to it
	Geometry string          // the column of geometries of a CSV file; blank for none
	Stops    []error         // of a trial: what makes the file unusable
	Skip     int             // of a trial: lines of a title above the header

	Words         []column.WordCount // every word of the columns of words
	Proposals     []column.Proposal  // for columns that were carried
	ProposedWords []column.WordCount // of those, uncounted
}

// featureReader is what the readers of all inputs share.
type featureReader struct {
	format.Reading
	columns   *column.Columns
	options   Options
	file      File
	wrongKind int // features with a geometry of another kind than asked for
	features  int
	size      int64 // of the file in bytes; 0 when unknown
	store     store
	ids       pile
	lost      struct{ message, whole string } // what was said last of a rejected record
	id        int                             // the field that holds the record's id
	record    string

	presenceFirst bool // which column says found is decided before what was not read is told
	serials       serials
}

// readFile reads all features of a source.
func (r *featureReader) readFile(s format.Source, take func(*format.Feature) error) error {
	if err := r.options.Validate(); err != nil {
		return err
	}
	if err := r.columns.Check(); err != nil {
		return err
	}
	r.Name, r.Layer, r.Limits, r.size = s.Name, s.Layer, r.options.Limits, s.Size
	r.Bound, r.Skip, r.Titled = r.columns.Knows, r.options.SkipLines, r.title
	r.Log = &check.Log{Limit: r.Limits.FindingsAlike}
	r.store = store{}
	if err := r.Ask(r.options.CRS); err != nil {
		return err
	}
	file, err := s.Open()
	if err != nil {
		return fmt.Errorf("cannot open %s: %w", s.Name, err)
	}
	defer file.Close()
	in := format.NewInput(s, file, r.Limits.Bytes)
	err = detect.Read(&r.Reading, in, func(f *format.Feature) error {
		if len(r.Schema.Names) > len(r.columns.Names()) || r.features == 0 {
			r.learn(f)
		}
		r.features++
		r.columns.Look(f)
		r.record = ""
		if r.file.Read >= r.Limits.Records {
			return r.Unusable(format.RowName(f.Row), fmt.Sprintf("there are more records than the limit of %d", r.Limits.Records), "split the file, or raise limits.records")
		}
		r.Degrees(&f.Shape)
		return take(f)
	})
	if err != nil {
		return err
	}
	r.columns.Learn(r.Schema.Names) // of a header without rows
	r.close(in)
	return nil
}

// learn binds the columns that the file has so far.
func (r *featureReader) learn(f *format.Feature) {
	layout := column.Layout{Cut: r.Traits.LongestName}
	if r.Tabular() && f.Shape.Kind != format.NoShape {
		layout.Hidden = r.GeometryColumn + 1
	}
	r.columns.Lay(layout)
	r.columns.Learn(r.Schema.Names)
}

// stop returns what makes the file unusable, or, in a trial, keeps it and goes on.
func (r *featureReader) stop(place, found, remedy string) error {
	err := r.Unusable(place, found, remedy)
	if !r.options.Trial {
		return err
	}
	r.file.Stops = append(r.file.Stops, err)
	return nil
}

// title tells of a title above the header.
func (r *featureReader) title(skip int, title string) error {
	r.file.Skip = skip
	return r.stop("line 1", fmt.Sprintf("it is a title and no header: %s; the header seems to be line %d", format.Shorten(strings.TrimSpace(title)), skip+1),
		fmt.Sprintf("write skip_lines = %d under [files.%q] in the settings, or take the lines above the header out", skip, path.Base(filepath.ToSlash(r.Reading.File()))))
}

// close keeps what is known of the file once it is read.
func (r *featureReader) close(in *format.Input) {
	r.file.Name = r.Name
	r.file.Format, r.file.Encoding = r.Traits.Name, r.Encoding
	r.file.SHA256, r.file.Bytes = in.Sum(), in.Bytes
	r.file.System, r.file.Parts = r.SystemName(), r.Parts
	r.file.Geometry = r.columns.Geometry()
	r.columns.Propose(r.Comma)
	r.finish()
	if !r.presenceFirst {
		r.columns.TellUnread(r.ReportFile, nothingElse)
	}
	r.reportSerials()
	r.columns.Tell(r.ReportFile)
	if r.file.Read == 0 {
		r.ReportFile(ruleNoRecords, "", "", "the file has no records")
	}
}

// nothingElse is of files that tell of their fields in columns alone.
func nothingElse(string) bool { return false }

// finish tells how the columns and their words were understood.
func (r *featureReader) finish() {
	r.file.Columns, r.file.Words = r.columns.Reports(), r.columns.Words()
	r.file.Proposals, r.file.ProposedWords = r.columns.Proposals(), r.columns.ProposedWords()
}

// label returns what findings call the feature: its id, or its row.
func (r *featureReader) label(f *format.Feature) string {
	if r.record == "" {
		if r.record = r.identity(f); r.record == "" {
			var room [24]byte
			r.record = r.ids.keep(strconv.AppendInt(append(room[:0], "row "...), int64(f.Row), 10))
		}
	}
	return r.record
}

// identity returns the feature's own id: the column's, else the format's.
func (r *featureReader) identity(f *format.Feature) string {
	if id := r.columns.Cell(f, r.id); len(id) > 0 {
		return r.ids.keep(wholeText(id))
	}
	return r.ids.keep(wholeText(bytes.TrimSpace(f.ID)))
}

// wholeText takes the ".0" off a whole number that passed through a table of
// floats, so that node 17 and node 17.0 are one.
func wholeText(text []byte) []byte {
	k := bytes.IndexByte(text, '.')
	if k <= 0 || len(bytes.Trim(text[k+1:], "0")) > 0 {
		return text
	}
	for _, b := range text[:k] {
		if b-'0' >= 10 && b != '-' {
			return text
		}
	}
	return text[:k]
}

func (r *featureReader) report(f *format.Feature, rule check.Rule, field, value, message string) {
	r.Log.Add(check.Finding{Rule: rule, File: r.Name, Record: r.label(f), Field: field, Value: format.Shorten(value), Message: message})
}

// reject counts and reports a record that is lost.
func (r *featureReader) reject(f *format.Feature, rule check.Rule, field, value, message string) {
	r.file.Read++
	r.file.Rejected++
	if message != r.lost.message { // a file that is wrong is wrong in the same way a hundred thousand times
		r.lost.message, r.lost.whole = message, message+"; the record was rejected"
	}
	r.report(f, rule, field, value, r.lost.whole)
}

// grown returns rows with room for those to come, by how much of the text they took:
// Go's own growth copies a long slice five times over. At most three times as
// many, so that a file which begins with short rows does not take room for rows it
// does not have.
func grown[T any](r *featureReader, rows []T) []T {
	const enough = 1000 // our choice: rows whose mean length tells the number to come
	if len(rows) < max(cap(rows), enough) || r.Text == nil || r.Text.Place() <= 0 {
		return rows
	}
	// a fiftieth more, since rows grow longer as their numbers do
	total := float64(len(rows)) * 1.02 * float64(r.size) / float64(r.Text.Place())
	return slices.Grow(rows, max(0, min(int(total), 4*len(rows), r.Limits.Records)-len(rows)))
}

// number reads a field as a number; NaN when it has none.
func (r *featureReader) number(f *format.Feature, field int) float64 {
	n := r.columns.Number(f, field, r.Comma)
	switch {
	case n.Kind == cell.BadNumber:
		r.reportNumber(f, ruleNumber, field, n.Text, "is no number; the value was left out")
	case n.Kind == cell.NotFinite:
		r.reportNumber(f, ruleNotFinite, field, n.Text, "is not a finite number; the value was left out")
	case n.Told != "":
		r.reportNumber(f, ruleApproximate, field, n.Text, fmt.Sprintf("was read as %s, %s", strconv.FormatFloat(n.Value, 'g', 6, 64), n.Told))
	}
	return n.Value
}

func (r *featureReader) reportNumber(f *format.Feature, rule check.Rule, field int, text []byte, message string) {
	name := r.columns.FieldName(field)
	r.report(f, rule, name, string(text), name+" "+message)
}

// rejectShape rejects a feature whose geometry cannot be used, and says whether it did.
func (r *featureReader) rejectShape(f *format.Feature, wanted func(format.ShapeKind) bool) bool {
	s := &f.Shape
	switch {
	case s.Kind != format.NoShape && !wanted(s.Kind):
		r.wrongKind++
		r.reject(f, ruleKind, "geometry", s.Name, "the geometry is a "+s.Name)
	case s.Wrong != "":
		r.reject(f, ruleMalformed, "geometry", "", s.Wrong)
	case s.Kind != format.NoShape && len(s.Points) == 0:
		r.reject(f, ruleEmpty, "geometry", s.Name, "the geometry has no positions")
	default:
		return false
	}
	return true
}

// slab hands out slices of one large array, so that a file of many short
// lines is not as many small pieces of memory.
type slab struct{ free []orb.Point }

// slabSize is how many positions are had at once. Our choice: one megabyte.
const slabSize = 1 << 16

func (s *slab) copy(points []orb.Point) []orb.Point {
	n := len(points)
	if n > slabSize/4 {
		return append([]orb.Point(nil), points...)
	}
	if len(s.free) < n {
		s.free = make([]orb.Point, slabSize)
	}
	out := s.free[:n:n]
	s.free = s.free[n:]
	copy(out, points)
	return out
}
