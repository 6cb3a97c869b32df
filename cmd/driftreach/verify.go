package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/pflag"

	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/verify"
)

func (p *program) verifyCommand() *command {
	return &command{
		name: "verify", line: "check a finished batch, trend or answers of a chain", usage: "DIR",
		text: `Checks a finished batch that came by mail or from a disk: every file against the
hash and count in its manifest, every file against the standard of its format,
totals against rows, acreages against footprints, and the sheets of tables.xlsx
against the CSV files. If the folder of the batch before lies beside it, verify
checks that it is the one that this batch continues.

A folder made by trend or learn is checked in the same way. The slopes of a trend
are computed again from series.csv, and the figures of each quarter are compared
with the batches that lie beside the folder. Nothing is changed.`,
		example: "driftreach verify 2026Q3",
		flags:   pflag.NewFlagSet("verify", pflag.ContinueOnError),
		run: func(args []string) error {
			if len(args) != 1 {
				return &usageError{"verify takes one folder", "name a finished folder, for example `driftreach verify 2026Q3`"}
			}
			return p.runVerify(args[0])
		},
	}
}

// runVerify checks the folder and prints the result on stdout. A folder with anything wrong in it is an
// unusable input.
func (p *program) runVerify(dir string) error {
	stands, _ := folder.Standing(p.disk, dir)
	info, err := p.disk.Stat(stands)
	if err != nil || !info.IsDir() {
		return &inputError{fmt.Errorf("verify %s: it is no folder that can be read", dir), "name the folder of a finished batch"}
	}
	full := whole(dir)
	var r verify.Report
	err = p.steadily(full, func(at string) (err error) {
		if r, err = verify.Folder(p.ctx, os.DirFS(at), folderAbove(full)); err == nil && len(r.Problems) > 0 {
			return errUnsound
		}
		return err
	})
	if newer := (*mapfile.NewerFormatError)(nil); errors.As(err, &newer) {
		return &inputError{fmt.Errorf("verify %s: %w", dir, newer), newer.Hint()}
	}
	if errors.Is(err, verify.ErrNoBatch) {
		return &inputError{fmt.Errorf("verify %s: %w", dir, err), "name the folder of a finished batch, trend or learn, the one with manifest.json in it"}
	}
	if err != nil && !errors.Is(err, errUnsound) {
		return err
	}
	p.printVerified(dir, &r)
	if len(r.Problems) > 0 {
		return &inputError{fmt.Errorf("verify %s: %s", dir, plural(len(r.Problems), "problem")),
			"ask the maker of the folder for a new copy, or run that quarter again"}
	}
	return nil
}

// folderAbove returns the folder that contains dir; nil at the top of a file system.
func folderAbove(dir string) fs.FS {
	if filepath.Dir(dir) == dir {
		return nil
	}
	return os.DirFS(filepath.Dir(dir))
}

// printVerified prints one line for each file, then what is wrong, then the chain.
func (p *program) printVerified(dir string, r *verify.Report) {
	what := string(r.Kind)
	if r.Kind == folder.Batch {
		what = "batch of " + oneLine(r.Quarter)
	}
	fmt.Fprintf(p.stdout, "%s: %s, by driftreach %s, format %d\n\n", oneLine(dir), what, oneLine(r.Version), r.Format)
	for _, f := range r.Files {
		state, records := "ok", ""
		if !f.Sound {
			state = "WRONG"
		}
		if f.Features >= 0 {
			records = plural(f.Features, "record")
		}
		fmt.Fprintf(p.stdout, "  %-24s %12d bytes  %18s  %s\n", oneLine(f.Name), f.Bytes, records, state)
	}
	if len(r.Problems) > 0 {
		fmt.Fprintln(p.stdout)
	}
	for _, problem := range r.Problems {
		name := problem.File
		if name == "" {
			name = "the folder"
		}
		fmt.Fprintf(p.stdout, "  %s: %s\n", oneLine(name), oneLine(problem.Text))
	}
	fmt.Fprintf(p.stdout, "\n  %s\n", chainWords(r))
}

// batchCount writes a number of batches in words.
func batchCount(n int) string {
	if n == 1 {
		return "1 batch"
	}
	return count(n) + " batches"
}

// chainWords says what is known about the previous batch, or about the batches from which a trend or
// the answers of a chain were made.
func chainWords(r *verify.Report) string {
	if r.Kind != folder.Batch {
		switch {
		case r.Found == r.Batches:
			return "It was made from " + batchCount(r.Batches) + ", which lie beside it unchanged."
		case r.Found == 0:
			return "It was made from " + batchCount(r.Batches) + ". None is beside it unchanged; they were not compared."
		}
		return fmt.Sprintf("It was made from %s. %d of them lie beside it unchanged; the others were not compared.", batchCount(r.Batches), r.Found)
	}
	if r.Edition != "" {
		return "It is a public edition. The batch before was not checked, and no batch can continue this one."
	}
	before := "batch of " + oneLine(r.Earlier)
	if r.Earlier == "" { // the first format did not give it
		before = "batch"
	}
	switch r.Before {
	case verify.Same:
		return "It continues the " + before + " beside it, which is unchanged."
	case verify.Other:
		return "The " + before + " beside it is not the one that it continues."
	case verify.NotFound:
		return "It continues a " + before + ", which is not beside it and was not checked."
	}
	return "It is the first of its chain: it continues no other batch."
}
