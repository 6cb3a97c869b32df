package main

import (
	"fmt"

	"github.com/spf13/pflag"

	"driftreach/internal/demo"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/result"
)

// demoFlags are the flags of the command demo.
type demoFlags struct {
	to   outFlags
	seed uint64
	with batchFlags
}

func (p *program) demoCommand() *command {
	flags := pflag.NewFlagSet("demo", pflag.ContinueOnError)
	var f demoFlags
	f.to.add(flags, "demo", "demo")
	f.to.addOther(flags, "no demo")
	flags.Uint64Var(&f.seed, "seed", 1, "`NUMBER` that decides the country; the same number gives the same bytes")
	f.with.add(flags)
	return &command{
		name: "demo", line: "write an invented country's eight quarters and run them all", usage: "[--out DIR] [flags]",
		text: `Invents a country with rivers and eight quarters of survey, writes them as input
files into DIR/inputs, runs each quarter into its own folder in DIR, as batch does,
and writes the trend over all of them to DIR/trend.`,
		example: "driftreach demo --out demo",
		flags:   flags,
		run: func(args []string) error {
			if err := noArguments(args, onlyFlags); err != nil {
				return err
			}
			if err := checkWorkers(f.with.workers); err != nil {
				return err
			}
			if f.to.dir == "" {
				return needOut("")
			}
			return p.runDemo(f)
		},
	}
}

// runDemo writes the scenario, one batch for each quarter and the trend over them, into one folder that
// appears complete or not at all.
func (p *program) runDemo(flags demoFlags) error {
	scenario := demo.Make(flags.seed)
	var runs []*result.Run
	err := folder.Make(p.ctx, p.out(flags.to, folder.Demo, nil), func(f *folder.Folder) error {
		if err := writeInputs(f.Sub(inputFolder), scenario); err != nil {
			return err
		}
		if err := writeProgramme(f, scenario); err != nil {
			return err
		}
		var quarters []string
		for _, q := range scenario.Quarters {
			j, err := quarterJob(q, scenario, flags.with)
			if err != nil {
				return err
			}
			if n := len(quarters); n > 0 {
				j.previous = earlier.Folder{Name: quarters[n-1], Path: f.Sub(quarters[n-1]).Dir(), Version: version}
			}
			run, _, err := p.deliver(f.Sub(q.Quarter), j)
			if err != nil {
				return fmt.Errorf("run quarter %s: %w", q.Quarter, err)
			}
			runs, quarters = append(runs, run), append(quarters, q.Quarter)
		}
		if err := p.demoTrend(f, quarters); err != nil {
			return err
		}
		return writeDemoManifest(f, flags.seed)
	})
	if err != nil {
		return err
	}
	writeDemoClosing(p.stderr, runs, flags.to.dir)
	for _, run := range runs {
		if err := rejected(run.Findings); err != nil {
			return err
		}
	}
	return nil
}

// demoTrend writes the trend over the quarters in f, as the command trend does, inside the demo's
// folder.
func (p *program) demoTrend(f *folder.Folder, quarters []string) error {
	batches, err := p.readBatches(f.Dir(), quarters)
	if err != nil {
		return err
	}
	chained(batches)
	history, err := assemble(batches)
	if err != nil {
		return err
	}
	return writeTrend(f.Sub(trendFolder), history, batches)
}
