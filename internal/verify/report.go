package verify

import (
	"fmt"

	"driftreach/internal/check"
	"driftreach/internal/folder"
)

// Problem is one thing that is wrong, in words.
type Problem struct {
	File string // blank for the folder as a whole
	Text string
}

// File is a file of the folder and the result of its check.
type File struct {
	Name     string
	Bytes    int64
	Features int  // features, placemarks or rows; -1 if the format has no check
	Sound    bool // no problem was found
}

// Report is the result of verifying a folder.
type Report struct {
	Kind     folder.Kind // folder.Batch, folder.Trend or folder.Learned
	Quarter  string      // of a batch
	Version  string      // of the program that made it
	Format   int         // of its files
	Edition  string      // folder.Public; blank for a full batch
	Earlier  string      // quarter of the batch that it continues; blank for the first of a chain
	Before   Before      // the result of looking for that batch
	Batches  int         // number of batches from which a trend or the answers of a chain were made
	Found    int         // how many of these are beside the folder, unchanged
	Files    []File
	Problems []Problem
}

// Before is the result of looking for the previous batch.
type Before int

// The possible results.
const (
	First    Before = iota // there is none: the batch begins a chain
	NotFound               // no folder with its manifest is beside this one
	Same                   // it is the batch that this one continues
	Other                  // it was run again, or is another batch
)

func (r *Report) addf(file, format string, args ...any) {
	r.Problems = append(r.Problems, Problem{file, check.Visible(fmt.Sprintf(format, args...))})
}
