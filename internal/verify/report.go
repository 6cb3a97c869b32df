package verify

import (
	"fmt"

	"driftreach/internal/check"
	"driftreach/internal/folder"
)

// Problem is one thing that is wrong, in plain words.
type Problem struct {
	File string // blank for the folder as a whole
	Text string
}

// File is a file of the folder as it was looked at.
type File struct {
	Name     string
	Bytes    int64
	Features int  // features, placemarks or rows; -1 where the form is not checked
	Sound    bool // nothing was found wrong with it
}

// Report is what came of a folder.
type Report struct {
	Kind     folder.Kind // folder.Batch, folder.Trend or folder.Learned
	Quarter  string      // of a batch
	Version  string      // of the program that made it
	Format   int         // of its files
	Edition  string      // folder.Public; blank for the whole batch
	Earlier  string      // quarter of the batch it continues; blank for the first of a chain
	Before   Before      // what is known of that batch
	Batches  int         // that a trend or the answers of a chain were made from
	Found    int         // of these, lie beside the folder unchanged
	Files    []File
	Problems []Problem
}

// Before says what came of the batch before.
type Before int

// What may come of the batch before.
const (
	First    Before = iota // there is none: the batch begins a chain
	NotFound               // no folder with its manifest lies beside this one
	Same                   // it is the one this batch continues
	Other                  // it was run again, or is another
)

func (r *Report) addf(file, format string, args ...any) {
	r.Problems = append(r.Problems, Problem{file, check.Visible(fmt.Sprintf(format, args...))})
}

// mostTold bounds how many faults of one table are reported. Our choice.
const mostTold = 20

// told takes over what is wrong with a table.
func (r *Report) told(name string, t *table) {
	for _, text := range t.wrong {
		r.addf(name, "%s", text)
	}
	t.wrong = nil
}
