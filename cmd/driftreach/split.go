package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"

	"github.com/spf13/pflag"

	"driftreach/internal/batch"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/part"
	"driftreach/internal/spill"
	"driftreach/internal/survey"
)

func (p *program) splitCommand() *command {
	flags := pflag.NewFlagSet("split", pflag.ContinueOnError)
	var (
		line  batchLine
		parts int
	)
	line.add(flags, "split")
	flags.IntVar(&parts, "parts", 0, "how many parts to cut, 1 to "+strconv.Itoa(part.Most)+": the `NUMBER` of workers, or a few times as many")
	group(flags, outputGroup)
	return &command{
		name: "split", line: "cut one quarter into parts for many machines", usage: "--points FILE... --streams FILE --quarter QUARTER --parts NUMBER --out DIR [flags]",
		text: `Reads and checks one quarter, with the flags of batch, and cuts it into parts,
DIR/0001 and so on. No part needs another. Make each part, on any machine, with
` + "`driftreach batch --part DIR/0001 --out RESULTS/0001`" + `. Then put them together with
` + "`driftreach merge RESULTS --out BATCH`" + `. The bytes are those of one batch on one machine.`,
		example: "driftreach split --points points.csv --streams streams.geojson --quarter 2026Q3 --parts 40 --out parts",
		flags:   flags,
		run: func(args []string) error {
			if err := errors.Join(noArguments(args, filesHaveFlags), checkWorkers(line.with.workers), checkParts(parts)); err != nil {
				return first(err)
			}
			j, err := line.job(p, nil)
			if err != nil {
				return err
			}
			split := maker()
			split.Command, split.Parts = line.said(), parts
			out := p.out(line.to, folder.Parts, line.guarded(p))
			return p.fit(line.memory, j.inputs, func(p *program) error { return p.runSplit(j, split, out) })
		},
	}
}

func checkParts(n int) error {
	if n < 1 || n > part.Most {
		return &usageError{"--parts is not given, or out of range", fmt.Sprintf("--parts takes 1 to %d: as many as there are workers, or a few times as many", part.Most)}
	}
	return nil
}

// notOfTheBatch are the flags that affect how a run works and what it may replace, but not the contents
// of the batch.
var notOfTheBatch = []string{"out", "parts", "workers", "memory", "replace-edited", "replace-other"}

// said returns the flags that determine the contents of the batch, so that they can be parsed again.
func (l *batchLine) said() []string {
	var all []string
	l.flags.Visit(func(f *pflag.Flag) {
		if slices.Contains(notOfTheBatch, f.Name) {
			return
		}
		values := []string{f.Value.String()}
		if many, ok := f.Value.(pflag.SliceValue); ok {
			values = many.GetSlice()
		}
		for _, v := range values {
			all = append(all, "--"+f.Name+"="+v)
		}
	})
	return all
}

func (p *program) runSplit(j job, split part.Split, out folder.Out) error {
	var c *batch.Splitter
	err := folder.Make(p.ctx, out, func(f *folder.Folder) (err error) {
		scratch, err := f.Scratch()
		if err != nil {
			return err
		}
		if c, err = p.split(j, scratch, split); err != nil {
			return err
		}
		err = c.Write(p.ctx, func(number int, write func(io.Writer) error) error {
			return f.Write(part.Name(number)+"/"+part.PartFile, write)
		})
		if err != nil {
			return err
		}
		if err := scratch.Remove(); err != nil {
			return err
		}
		return writeListing(f, "part")
	})
	if err != nil {
		return err
	}
	heaviest := slices.Index(c.Sizes, slices.Max(c.Sizes))
	fmt.Fprintf(p.stderr, "%s of %s in %s: %d of %d records in stands, %d of them in the part with most, %s; %s\n",
		plural(split.Parts, "part"), c.Split.Quarter, oneLine(out.Dir), c.Split.Detected, c.Split.Records, c.Sizes[heaviest], part.Name(heaviest+1),
		plural(c.Split.Pieces, "piece")+" of the zone")
	return nil
}

// split reads the quarter and splits it: the records in turn if that is possible, otherwise at once, which
// needs the memory for all of them.
func (p *program) split(j job, scratch *folder.Scratch, split part.Split) (*batch.Splitter, error) {
	host := p.host(j)
	c, err := p.splitInTurn(j, host, scratch, split)
	if !errors.Is(err, observed.ErrAtOnce) {
		return c, err
	}
	in, err := p.observe(j, host, nil, p.reading(j, host, nil, spill.NewShelf(nil, "")))
	if err != nil {
		return nil, err
	}
	done := host.Listener().Stage("cut into parts")
	defer done()
	return batch.NewSplitter(in, batch.EachOf(in.Records.Listed), slices.Concat(in.Files, j.files), j.settings, split, scratch.Sub("all"))
}

func (p *program) splitInTurn(j job, host host.Host, scratch *folder.Scratch, split part.Split) (*batch.Splitter, error) {
	j, err := p.after(j)
	if err != nil {
		return nil, err
	}
	in, records, err := observed.ReadInTurn(p.ctx, j.inputs, j.settings, host, scratch)
	if err != nil {
		return nil, err
	}
	if j.previous.Path != "" {
		if in, err = p.goOn(j, in, host); err != nil || len(in.Corrections) > 0 {
			return nil, errors.Join(observed.ErrAtOnce, err) // corrections may be about any record
		}
	}
	done := host.Listener().Stage("cut into parts")
	defer done()
	if err := records.Settle(&in, j.settings); err != nil {
		return nil, err
	}
	if err := linesUsable(&in); err != nil {
		return nil, err
	}
	in.Previous = nil
	each := func(yield func(*survey.Record) error) error {
		defer records.Passed()
		return records.Each(yield)
	}
	c, err := batch.NewSplitter(in, each, slices.Concat(in.Files, j.files), j.settings, split, scratch)
	if err != nil {
		return nil, err
	}
	return c, records.Evidence()
}

// writeListing writes the manifest of a folder that is not a batch, which marks the folder as ours.
func writeListing(f *folder.Folder, role string) error {
	m := mapfile.Manifest{
		Program: folder.Program, Version: version, Assumed: []string{}, Inputs: []mapfile.File{}, Counts: map[string]int{},
	}
	for _, sum := range f.Files() {
		m.Outputs = append(m.Outputs, mapfile.File{Name: sum.Name, Role: role, SHA256: sum.SHA256, Bytes: sum.Bytes})
	}
	return f.Write(folder.ManifestName, func(w io.Writer) error { return mapfile.WriteManifest(w, m) })
}
