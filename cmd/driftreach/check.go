package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"driftreach/geo"
	"driftreach/internal/batch"
	"driftreach/internal/check"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/stream"
)

// maxShown is how many findings check prints. Our choice: what fits a screen.
const maxShown = 20

func (p *program) checkCommand() *command {
	flags := pflag.NewFlagSet("check", pflag.ContinueOnError)
	var (
		from     inputFlags
		how      settingFlags
		findings string
	)
	from.add(flags, "`QUARTER` the points should be of, as in 2026Q3; without it no date is too late")
	how.add(flags)
	flags.StringVar(&findings, "findings", "", "write every finding to `FILE` (CSV)")
	return &command{
		name: "check", line: "read and check the input only", usage: "--points FILE... --streams FILE [flags]",
		text: `Reads survey points, stream centerlines, planned works, reporting units, surveyed
ground, control work, barriers, or all of them, and prints how each column was
understood, with counts and an example, and what is wrong with the input. Nothing
is computed and nothing is written, unless --findings names a file.`,
		example: "driftreach check --points points.csv --streams streams.geojson --findings findings.csv",
		flags:   flags,
		run: func(args []string) error {
			if err := noArguments(args); err != nil {
				return err
			}
			if from.none() {
				return &usageError{"nothing to check", "name --points FILE, --streams FILE, or both"}
			}
			settings, _, err := how.read()
			if err != nil {
				return err
			}
			inputs, err := from.read()
			if err != nil {
				return err
			}
			return p.runCheck(inputs, settings, findings)
		},
	}
}

func (p *program) runCheck(in batch.Inputs, s batch.Settings, findings string) error {
	if err := notAnInput(findings, in); err != nil {
		return err
	}
	in.Trial = true
	observed, err := batch.Read(p.ctx, in, s, batch.Host{Progress: p.progress(size(in))})
	if err != nil {
		return err
	}
	barriers := observed.Barriers
	if len(in.Streams) == 0 { // without streams they stand nowhere
		barriers = nil
	}
	_, more := stream.ConnectBarriers(observed.Centerlines, barriers, geo.Meters(s.Network.Snap))
	observed.Findings = check.Join(observed.Findings, more)
	if findings != "" {
		if err := writeFindings(findings, observed); err != nil {
			return err
		}
	}
	writeUnderstood(p.stdout, observed)
	writeShown(p.stdout, observed.Findings, findings)
	for _, file := range observed.Understood {
		if len(file.Stops) > 0 {
			return file.Stops[0]
		}
	}
	return rejected(observed.Findings)
}

// writeShown prints the gravest findings, and how many there are of each
// severity.
func writeShown(w io.Writer, findings []check.Finding, file string) {
	fmt.Fprintf(w, "findings: %s\n", findingsLine(findings))
	for _, f := range gravest(findings) {
		fmt.Fprintf(w, "\n  %s  %s\n    %s\n    remedy: %s\n", f.Rule.Severity, place(f), oneLine(f.Message), f.Rule.Remedy)
	}
	switch {
	case file != "":
		fmt.Fprintf(w, "\nevery finding is in %s\n", file)
	case len(findings) > maxShown:
		fmt.Fprintf(w, "\nand %s more; --findings FILE writes them all\n", count(len(findings)-maxShown))
	}
}

// gravest returns the findings that are shown, the gravest first, in their order
// otherwise.
func gravest(findings []check.Finding) []check.Finding {
	var shown []check.Finding
	for _, severity := range []check.Severity{check.Error, check.Warning, check.Note} {
		for i := range findings {
			if len(shown) == maxShown {
				return shown
			}
			if findings[i].Rule.Severity == severity {
				shown = append(shown, findings[i])
			}
		}
	}
	return shown
}

// place says where a finding was met.
func place(f check.Finding) string {
	text := f.File
	for _, part := range []string{f.Record, f.Field, f.Value} {
		if part != "" {
			text += ", " + part
		}
	}
	return oneLine(text) + " (" + f.Rule.Code + ")"
}

// notAnInput refuses to write the findings over an input.
func notAnInput(file string, in batch.Inputs) error {
	info, err := os.Stat(file)
	if file == "" || err != nil {
		return nil
	}
	for _, source := range in.Sources() {
		if other, err := os.Stat(strings.TrimSuffix(source.Name, ":"+source.Layer)); err == nil && os.SameFile(info, other) {
			return &usageError{"--findings names an input, " + source.Name, "choose another file for the findings"}
		}
	}
	return nil
}

// writeFindings writes the findings' table to a file, whole or not at all.
func writeFindings(name string, observed batch.Observed) (err error) {
	file, err := os.CreateTemp(filepath.Dir(name), ".driftreach-findings-*")
	if err != nil {
		return &batch.OutputError{Path: name, Err: err}
	}
	defer func() {
		if err != nil {
			file.Close()
			os.Remove(file.Name())
			err = &batch.OutputError{Path: name, Err: err}
		}
	}()
	run := &result.Run{Quarter: observed.Quarter, Findings: observed.Findings}
	if err := mapfile.WriteFindingsCSV(file, run); err != nil {
		return err
	}
	// CreateTemp makes the file for its owner alone; the findings are for
	// whoever may read the folder.
	if err := file.Chmod(0o644); err != nil {
		return err
	}
	if err := file.Sync(); err != nil {
		return err
	}
	if err := file.Close(); err != nil {
		return err
	}
	return os.Rename(file.Name(), name)
}
