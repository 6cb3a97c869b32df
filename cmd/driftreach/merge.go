package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/pflag"

	"driftreach/internal/folder"
	"driftreach/internal/part"
)

func (p *program) mergeCommand() *command {
	flags := pflag.NewFlagSet("merge", pflag.ContinueOnError)
	var (
		to      outFlags
		workers int
		memory  memoryFlag
	)
	to.add(flags, "", "batch of the same quarter")
	to.addOther(flags, "of another quarter or area, or no batch")
	addWorkers(flags, &workers)
	memory.add(flags)
	group(flags, settingsGroup)
	return &command{
		name: "merge", line: "put the results of all parts together into one batch", usage: "RESULTS --out DIR [flags]",
		text: `Puts the results of all parts of a split together, does the steps that need the
whole network, and writes all maps and tables: the same bytes as one batch. It reads
the quarter's files again, by the names given to split, so run it where split ran.
If a part is missing, damaged or of another split, or a file has changed since, the
error names it and nothing is written.`,
		example: "driftreach merge results --out 2026Q3",
		flags:   flags,
		run: func(args []string) error {
			if len(args) != 1 {
				return &usageError{"merge takes one folder", "name the folder that holds the results, one folder a part"}
			}
			if err := checkWorkers(workers); err != nil {
				return err
			}
			found, err := part.FindResults(p.disk, args[0])
			if err != nil {
				return err
			}
			if err := sameMaker("the results "+args[0], found.Split); err != nil {
				return err
			}
			line, err := lineOf(&found.Split, to)
			if err != nil {
				return err
			}
			line.with.workers = workers
			j, err := line.job(p, &line.to.dir)
			if err != nil {
				return err
			}
			j.results = found
			out := p.out(line.to, folder.Batch, append(line.guarded(p), guardedResults(args[0], found.Split.Parts)...))
			out.Quarter = j.inputs.Quarter.String()
			return p.fit(memory, j.inputs, func(p *program) error { return p.runBatch(j, out) })
		},
	}
}

// guardedResults returns the folders of the results, one for each part. The batch may lie beside them.
func guardedResults(dir string, parts int) []folder.Guarded {
	var all []folder.Guarded
	for n := range parts {
		path := filepath.Join(dir, part.Name(n+1))
		all = append(all, folder.Guarded{What: "the result " + path, Path: path})
	}
	return all
}

// lineOf returns the command line that a split was made with, in the form of batch.
func lineOf(split *part.Split, to outFlags) (*batchLine, error) {
	line := new(batchLine)
	line.add(pflag.NewFlagSet("batch", pflag.ContinueOnError), "")
	said := split.Command
	if to.dir != "" {
		said = append(said[:len(said):len(said)], "--out="+to.dir)
	}
	if err := line.flags.Parse(said); err != nil {
		return nil, fmt.Errorf("the command that the split was made with: %w", err)
	}
	line.to = to
	return line, nil
}
