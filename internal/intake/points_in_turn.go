package intake

import (
	"slices"

	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// PointsInTurn is a file of survey points whose records were given in turn.
type PointsInTurn struct {
	File
	extra    []string // names of the carried columns, in the order of the file
	presence *presenceColumn
	words    occurrences
}

// ReadPointsInTurn does what ReadPoints does without holding the records: it gives blocks of them, in the
// order of the file. What can be known of a record only at the end of the file, Finisher adds. give must
// not keep the block. If the file is unusable the error need not be that of ReadPoints.
func ReadPointsInTurn(s format.Source, o Options, give func([]survey.Record) error) (PointsInTurn, []check.Finding, error) {
	o.Trial = false
	p := newPointReader(o)
	p.give = give
	if err := p.readAll(s); err != nil {
		return PointsInTurn{}, nil, err
	}
	return PointsInTurn{File: p.file, extra: p.columns.Carried(), presence: p.decided, words: p.occurrences}, p.Log.Findings(), nil
}

// ColumnsInTurn returns the sorted names of the carried columns of all files.
func ColumnsInTurn(files []PointsInTurn) []string {
	return columnsOfAll(sortedColumns(files))
}

// sortedColumns returns files of no records with the carried columns.
func sortedColumns(files []PointsInTurn) []Points {
	sorted := make([]Points, len(files))
	for i := range files {
		sorted[i].Extra = slices.Sorted(slices.Values(files[i].extra))
	}
	return sorted
}

// Finisher adds to the records of a file what became known at its end.
type Finisher struct {
	file   *PointsInTurn
	own    *spreader // into the order of the file's own columns
	shared *spreader // and from there into that of the batch
}

// FinishersOf returns one for each file. They are for some thousands of records; for more, make new
// ones.
func FinishersOf(files []PointsInTurn) []Finisher {
	sorted := sortedColumns(files)
	all := columnsOfAll(sorted)
	out := make([]Finisher, len(files))
	for i := range files {
		f := &out[i]
		f.file = &files[i]
		if len(files[i].extra) > 0 {
			f.own = newSpreader(files[i].extra, sorted[i].Extra)
		}
		if len(files) > 1 {
			f.shared = newSpreader(sorted[i].Extra, all)
		}
	}
	return out
}

// Finish finishes a record. at is its place among the given records of the file.
func (f *Finisher) Finish(r *survey.Record, at int) {
	r.File = f.file.Name
	if f.own != nil {
		r.Notes = f.own.spread(r.Notes)
	}
	if f.shared != nil {
		r.Notes = f.shared.spread(r.Notes)
	}
	if c := f.file.presence; c != nil {
		if detected, ok := f.file.words.of(c.words[c.heard[at]]); ok {
			r.Detected = detected
		}
	}
}
