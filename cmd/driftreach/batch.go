package main

import (
	"errors"

	"github.com/spf13/pflag"

	"driftreach/internal/folder"
)

func (p *program) batchCommand() *command {
	flags := pflag.NewFlagSet("batch", pflag.ContinueOnError)
	var (
		line batchLine
		one  partFlags
	)
	line.add(flags, "batch of the same quarter")
	one.add(flags)
	return &command{
		name: "batch", line: "run one quarter", usage: "--points FILE... --streams FILE --quarter QUARTER --out DIR [flags]",
		text: `Reads one quarter's survey points and stream centerlines and writes the maps and
tables into DIR, all of them or none: stands with three acreages, the aquatic
zone, the stream at risk, treatment order, findings about the input, and a
manifest that says how they were made. With --previous it continues the chain of
batches: name the last one alone, since it holds the history of those before it.
A settings file may name all of these under [inputs], with {quarter} and
{previous_quarter}; flags win over it. With --part it makes one part of a quarter
that split has cut. With --memory it works through parts in turn if the quarter
does not fit at once.`,
		example: "driftreach batch --points points.csv --streams streams.geojson --quarter 2026Q3 --previous 2026Q2 --out 2026Q3",
		flags:   flags,
		run: func(args []string) error {
			if err := errors.Join(noArguments(args, filesHaveFlags), checkWorkers(line.with.workers)); err != nil {
				return first(err)
			}
			if one.given() {
				return p.runPart(&line, one)
			}
			j, err := line.job(p, &line.to.dir)
			if err != nil {
				return err
			}
			out := p.out(line.to, folder.Batch, line.guarded(p))
			out.Quarter = j.inputs.Quarter.String()
			return p.runWithin(line.memory, j, out)
		},
	}
}
