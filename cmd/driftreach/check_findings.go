package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"

	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/result"
)

// mayHoldFindings refuses to overwrite a file that is not a table of findings: an input, the settings,
// a file of a batch, or any other file of that name.
func (p *program) mayHoldFindings(file string, guarded []folder.Guarded) error {
	if file == "" {
		return nil
	}
	refuse := func(why string) error {
		return &usageError{"--findings names " + why, "choose another file for the findings"}
	}
	for _, g := range guarded {
		if sameFile(p.disk, g.Path, file) {
			return refuse(g.What)
		}
	}
	if _, err := p.disk.Stat(filepath.Join(filepath.Dir(file), folder.ManifestName)); err == nil {
		return refuse("a file in a finished folder, " + filepath.Dir(file))
	}
	old, err := p.disk.Open(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return &folder.OutputError{Path: file, Err: err, Remedy: "choose another file for the findings"}
	}
	defer old.Close()
	var header bytes.Buffer
	if err := mapfile.WriteFindingsCSV(&header, &result.Run{}); err != nil {
		return fmt.Errorf("make the findings' header: %w", err)
	}
	begin := make([]byte, header.Len())
	if n, _ := io.ReadFull(old, begin); n > 0 && !bytes.Equal(begin[:n], header.Bytes()) {
		return refuse("a file that holds something else than findings, " + file)
	}
	return nil
}

// writeFindings writes the table of findings to a file, completely or not at all.
func (p *program) writeFindings(name string, observed observed.Quarter) error {
	run := &result.Run{Quarter: observed.Quarter, Findings: observed.Findings}
	return folder.WriteFile(p.ctx, p.out(outFlags{dir: name}, "", nil), func(w io.Writer) error { return mapfile.WriteFindingsCSV(w, run) })
}
