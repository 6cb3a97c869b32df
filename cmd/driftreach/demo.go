package main

import (
	"bytes"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"text/tabwriter"

	"github.com/spf13/pflag"

	"driftreach/internal/batch"
	"driftreach/internal/check"
	"driftreach/internal/demo"
	"driftreach/internal/intake"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// demoFlags are the flags of the demo.
type demoFlags struct {
	out  string
	seed uint64
	with batchFlags
}

func (p *program) demoCommand() *command {
	flags := pflag.NewFlagSet("demo", pflag.ContinueOnError)
	var f demoFlags
	flags.StringVar(&f.out, "out", "demo", "`DIR` to make; an earlier demo there is replaced, anything else is refused")
	flags.Uint64Var(&f.seed, "seed", 1, "`NUMBER` that decides the country; the same number gives the same bytes")
	f.with.add(flags)
	return &command{
		name: "demo", line: "write an invented country's eight quarters and run them all", usage: "[--out DIR] [flags]",
		text: `Invents a country with rivers and eight quarters of survey, writes them as input
files into DIR/inputs, and runs each quarter into its own folder in DIR, the way
the batch command does.`,
		example: "driftreach demo --out demo",
		flags:   flags,
		run: func(args []string) error {
			if err := noArguments(args); err != nil {
				return err
			}
			if err := checkWorkers(f.with.workers); err != nil {
				return err
			}
			if f.out == "" {
				return needOut("")
			}
			return p.runDemo(f)
		},
	}
}

// inputFolder is where the demo's input files are, inside its folder.
const inputFolder = "inputs"

// runDemo writes the scenario and one batch a quarter, all in one folder that
// is put in place whole.
func (p *program) runDemo(flags demoFlags) error {
	scenario := demo.Make(flags.seed)
	var runs []*result.Run
	err := batch.WriteFolder(p.ctx, flags.out, func(f *batch.Folder) error {
		if err := writeInputs(f.Sub(inputFolder), scenario); err != nil {
			return err
		}
		for _, q := range scenario.Quarters {
			j, err := quarterJob(q, scenario, flags.with)
			if err != nil {
				return err
			}
			run, err := p.deliver(f.Sub(q.Quarter), j)
			if err != nil {
				return fmt.Errorf("run quarter %s: %w", q.Quarter, err)
			}
			runs = append(runs, run)
		}
		return writeDemoManifest(f, flags.seed)
	})
	if err != nil {
		return err
	}
	writeDemoClosing(p.stderr, runs, flags.out)
	for _, run := range runs {
		if err := rejected(run.Findings); err != nil {
			return err
		}
	}
	return nil
}

func writeInputs(f *batch.Folder, s demo.Scenario) error {
	for _, file := range s.Files() {
		err := f.Write(file.Name, func(w io.Writer) error {
			_, err := w.Write(file.Text)
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// quarterJob is one quarter of the scenario as a batch.
func quarterJob(q demo.QuarterFiles, s demo.Scenario, with batchFlags) (job, error) {
	quarter, err := survey.ParseQuarter(q.Quarter)
	if err != nil {
		return job{}, err
	}
	return job{
		inputs: batch.Inputs{
			Points:  []intake.Source{textSource(q.PointsFile(), q.Points)},
			Streams: []intake.Source{textSource("streams.geojson", s.Streams)},
			Works:   []intake.Source{textSource(q.WorksFile(), q.Works)},
			Quarter: quarter,
		},
		settings: with.stage.over(batch.DefaultSettings()), extras: with.extras, workers: with.workers,
	}, nil
}

// textSource is an input the demo has just written, under the name it has
// inside the demo's folder.
func textSource(name string, text []byte) intake.Source {
	return intake.Source{
		Name: path.Join(inputFolder, name), Size: int64(len(text)),
		Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(text)), nil },
	}
}

// writeDemoManifest writes the manifest by which the folder is known as ours.
func writeDemoManifest(f *batch.Folder, seed uint64) error {
	m := mapfile.Manifest{
		Program: batch.Program, Version: version, Seed: seed,
		Assumed: []string{}, Inputs: []mapfile.File{}, Counts: map[string]int{},
	}
	for _, sum := range f.Files() {
		m.Outputs = append(m.Outputs, mapfile.File{Name: sum.Name, Role: "demo", SHA256: sum.SHA256, Bytes: sum.Bytes})
	}
	return f.Write(batch.ManifestName, func(w io.Writer) error { return mapfile.WriteManifest(w, m) })
}

// writeDemoClosing prints a line a quarter, the last quarter's table, and what
// to open next.
func writeDemoClosing(w io.Writer, runs []*result.Run, out string) {
	fmt.Fprint(w, "\nEight quarters of an invented country\n\n")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(t, "quarter\tpoints\tstands\tin zone\tgross\tinfested\tcanopy\treach at risk\trejected\t\n")
	for _, run := range runs {
		total := result.Summarize(run)[0]
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t\n", run.Quarter, count(len(run.Records)), count(total.Stands),
			count(total.InZone), acres(total.Gross), acres(total.Infested), acres(total.Canopy),
			kilometers(total.ReachAtRisk), count(check.Count(run.Findings, check.Error)))
	}
	t.Flush()
	last := filepath.Join(out, runs[len(runs)-1].Quarter.String())
	closing{run: runs[len(runs)-1], out: last, open: "the last quarter; the others are beside it"}.write(w)
	fmt.Fprintf(w, "Open next:\n  %s  in a map viewer\n  %s  in a spreadsheet\n  %s  says what the country is\n",
		filepath.Join(last, "map.kmz"), filepath.Join(last, "stands.csv"), filepath.Join(out, inputFolder, "README.md"))
}
