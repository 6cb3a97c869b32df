// Package intake turns files into records. It takes features of any format (internal/format), uses
// internal/column to understand their columns, and makes the records of each kind of input. Anything
// that cannot be read is a finding; only a file that cannot be used at all is an error.
package intake

import (
	"fmt"
	"path"
	"path/filepath"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/format/detect"
)

// File says how a whole file was read.
type File struct {
	Name     string // as the user named it
	Format   string // CSV, spreadsheet, GeoJSON, GeoPackage, GeoParquet, Shapefile, GPX or KML
	System   string // name of the reference system its positions were read in
	Encoding string // of the text
	Read     int    // number of records
	Rejected int    // those that reading rejected; the checks of the batch may reject more
	SHA256   string // of the file, in hexadecimal
	Bytes    int64
	Columns  []column.Report // how the columns were understood
	Parts    []format.Part   // other files that belong to it, such as a Shapefile's table
	Geometry string          // the geometry column of a CSV file; blank for none
	Stops    []error         // in a trial: what makes the file unusable
	Skip     int             // in a trial: title lines above the header

	Words         []column.WordCount // every word in the columns of words
	Proposals     []column.Proposal  // for carried columns
	ProposedWords []column.WordCount // words in the proposed columns, not counted
}

// featureReader is what the readers of all inputs share.
type featureReader struct {
	format.Reading
	columns   *column.Columns
	options   Options
	file      File
	wrongKind int // features with the wrong kind of geometry
	features  int
	size      int64 // of the file in bytes; 0 when unknown
	store     store
	ids       pile
	lost      struct{ message, whole string } // the last message about a rejected record
	id        int                             // the field that holds the record's id
	record    string

	presenceFirst bool // presence is decided before unread columns are reported
	serials       serials
	sizes         sizes
	zones         zoneColumn
}

// newReader returns the reader of a file whose records have fields, id among them.
func newReader(fields []column.Field, id int, known []column.Recognised, o Options) featureReader {
	return featureReader{options: o, columns: column.New(fields, known, o.Mapping), id: id, store: store{}}
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
	r.Log = &check.Log{Limit: r.Limits.FindingsAlike, Quiet: r.options.Quiet}
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
		r.lookAt(f.Shape.Points)
		r.Degrees(&f.Shape)
		return take(f)
	})
	if err != nil {
		return err
	}
	r.columns.Learn(r.Schema.Names) // for a header without rows
	r.close(in)
	return r.checkSizes()
}

// learn binds the columns found so far.
func (r *featureReader) learn(f *format.Feature) {
	layout := column.Layout{Cut: r.Traits.LongestName}
	if r.Tabular() && f.Shape.Kind != format.NoShape {
		layout.Hidden = r.GeometryColumn + 1
	}
	r.columns.Lay(layout)
	r.columns.Learn(r.Schema.Names)
	r.findZones()
}

// stop returns the error that makes the file unusable. In a trial it records it and returns nil.
func (r *featureReader) stop(place, found, remedy string) error {
	err := r.Unusable(place, found, remedy)
	if !r.options.Trial {
		return err
	}
	r.file.Stops = append(r.file.Stops, err)
	return nil
}

// title reports a title above the header.
func (r *featureReader) title(skip int, title string) error {
	r.file.Skip = skip
	return r.stop("line 1", fmt.Sprintf("it is a title and no header: %s; the header seems to be line %d", format.Shorten(strings.TrimSpace(title)), skip+1),
		fmt.Sprintf("write skip_lines = %d under [files.%q] in the settings, or take the lines above the header out", skip, path.Base(filepath.ToSlash(r.Reading.File()))))
}

// close records what is known about the file after reading.
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
	if told := r.serials.told(); told != "" {
		r.ReportFile(ruleSerial, r.serials.field, r.serials.text, told)
	}
	r.columns.Tell(r.ReportFile)
	if r.file.Read == 0 {
		r.ReportFile(ruleNoRecords, "", "", "the file has no records")
	}
}

// nothingElse is for files whose fields are only in columns.
func nothingElse(string) bool { return false }

// finish records how columns and words were understood.
func (r *featureReader) finish() {
	r.file.Columns, r.file.Words = r.columns.Reports(), r.columns.Words()
	r.file.Proposals, r.file.ProposedWords = r.columns.Proposals(), r.columns.ProposedWords()
}
