package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"github.com/spf13/pflag"

	"driftreach/internal/batch"
	"driftreach/internal/check"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/intake"
	"driftreach/internal/observed"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
)

// maxShown is how many findings check prints. Our choice: as many as fit on a screen.
const maxShown = 20

func (p *program) checkCommand() *command {
	flags := pflag.NewFlagSet("check", pflag.ContinueOnError)
	var (
		from     inputFlags
		how      settingFlags
		findings string
		memory   memoryFlag
	)
	from.add(flags, "`QUARTER` the points should be of, as in 2026Q3; without it no date is too late")
	how.add(flags)
	memory.add(flags)
	flags.StringVar(&findings, "findings", "", "write every finding to `FILE` (CSV)")
	group(flags, outputGroup)
	return &command{
		name: "check", line: "read and check the input only", usage: "--points FILE... --streams FILE [flags]",
		text: `Reads one or more of the inputs of a batch. Prints how each column was understood,
with counts and an example, what is wrong with the input, and what a batch would
assume. Computes no map, and writes nothing unless --findings names a file.`,
		example: "driftreach check --points points.csv --streams streams.geojson --findings findings.csv",
		flags:   flags,
		run: func(args []string) error {
			if err := noArguments(args, filesHaveFlags); err != nil {
				return err
			}
			settings, _, err := how.read(p.disk)
			if err != nil {
				return err
			}
			if err := from.fill(p.disk, settings.Inputs, filepath.Dir(how.file), nil, nil); err != nil {
				return err
			}
			if len(from.named()) == 0 {
				return &usageError{"nothing to check", "name a file, as in --points FILE or --streams FILE"}
			}
			inputs, err := from.read(p.disk)
			if err != nil {
				return err
			}
			guarded := slices.Concat(from.guarded(p.disk), how.guarded())
			return p.fit(memory, inputs, func(p *program) error { return p.runCheck(inputs, settings, findings, guarded) })
		},
	}
}

func (p *program) runCheck(in observed.Inputs, s settings.Settings, findings string, guarded []folder.Guarded) error {
	if err := p.mayHoldFindings(findings, guarded); err != nil {
		return err
	}
	in.Trial = true
	observed, err := observed.Read(p.ctx, in, s, host.Host{Progress: p.progress(size(in)), Disk: p.disk})
	if err != nil {
		return err
	}
	given := observed.Corrections
	observed.Corrections = nil // only a batch knows the records and stands that they name
	if observed, err = batch.Begin(observed, s); err != nil {
		return err
	}
	observed.Corrections = given
	barriers := observed.Barriers
	if len(in.Of[intake.RoleStreams].Sources) == 0 { // barriers have no place without streams
		barriers = nil
	}
	net, more := stream.Connect(observed.Centerlines, barriers, observed.Water, s.NetworkOptions())
	observed.Findings = check.Join(observed.Findings, more)
	if findings != "" {
		if err := p.writeFindings(findings, observed); err != nil {
			return err
		}
	}
	writeColumnReport(p.stdout, observed)
	writeShown(p.stdout, observed.Findings, findings)
	writeAssumed(p.stdout, observed.Worth(s, net))
	for _, file := range observed.ColumnReports {
		if len(file.Stops) > 0 {
			return file.Stops[0]
		}
	}
	return rejected(observed.Findings)
}

// writeAssumed prints what a batch of the input will assume, and the acres that depend on it.
func writeAssumed(w io.Writer, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprint(w, "\nwhat will be assumed, and what it is worth (patches counted whole, before overlaps are dissolved):\n")
	for _, line := range lines {
		fmt.Fprintf(w, "  %s\n", line)
	}
}

// writeShown prints the most serious findings, and the number of each severity.
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

// gravest returns the findings to show, the most serious first and otherwise in their order.
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

// place says where a finding is.
func place(f check.Finding) string {
	text := f.File
	for _, part := range []string{f.Record, f.Field, f.Value} {
		if part != "" {
			text += ", " + part
		}
	}
	return oneLine(text) + " (" + f.Rule.Code + ")"
}
