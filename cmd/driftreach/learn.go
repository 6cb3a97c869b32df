package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"github.com/spf13/pflag"

	"driftreach/internal/disk"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/intake"
	"driftreach/internal/learn"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/report"
	"driftreach/internal/settings"
)

// learnFlags are the flags of the command learn.
type learnFlags struct {
	from    inputFlags
	how     settingFlags
	to      outFlags
	second  string // a file of second looks
	options learn.Options
	workers int
}

func (p *program) learnCommand() *command {
	flags := pflag.NewFlagSet("learn", pflag.ContinueOnError)
	f := learnFlags{options: learn.DefaultOptions()}
	f.from.addRoles(flags, waterRoles())
	flags.StringVar(&f.second, "second-looks", "", "`FILE` (CSV) of places that two crews visited in one season, for how often a look finds what is there")
	f.to.add(flags, "", "answer")
	f.how.add(flags)
	flags.Float64Var((*float64)(&f.options.Clonal), "clonal", float64(f.options.Clonal), "a new stand within this many `METRES` of a known one is growth of that one, not an arrival; assumed")
	flags.Float64Var((*float64)(&f.options.Tall), "tall", float64(f.options.Tall), "a plant above so many `METRES` was missed before, and is not new; assumed")
	flags.IntVar(&f.options.Later, "later", f.options.Later, "`DAYS` after treatment until a look can show whether it worked; assumed")
	flags.Float64Var(&f.options.Before, "before", f.options.Before, "`PROBABILITY` that something is left of a treated stand before anybody looks; assumed")
	flags.Float64Var(&f.options.Certainty, "certainty", f.options.Certainty, "`PROBABILITY` that nothing is left at which a programme may stop looking")
	addWorkers(flags, &f.workers)
	group(flags, settingsGroup)
	return &command{
		name: "learn", line: "compare finished batches with the rates that were assumed", usage: "DIR... --streams FILE --out DIR [flags]",
		text: `Reads a chain of finished batches, one folder a quarter, in any order, and checks
the rates that they assumed against the programme's own history. It answers, each
with its interval: did new stands come where the map of risk said, how far do
fragments float, does treatment work, how often does a look find what is there,
how fast do stands grow. It writes a page, tables, and a settings file to take
values from; it changes nothing itself. Name the streams, barriers and water that
the batches were made with. A settings file may name them under [inputs].`,
		example: "driftreach learn 2025Q4 2026Q1 2026Q2 2026Q3 --streams streams.geojson --out learned",
		flags:   flags,
		run:     func(args []string) error { return p.runLearn(args, &f) },
	}
}

// waterRoles are the kinds of input on which reach depends.
func waterRoles() []intake.Role {
	return slices.DeleteFunc(intake.Roles(), func(r intake.Role) bool { return r.Digest == nil })
}

// runLearn reads the batches in dirs, computes the answers, and writes the folder.
func (p *program) runLearn(dirs []string, f *learnFlags) error {
	if len(dirs) == 0 {
		return &usageError{"no batches", "name the folders of finished batches, for example `driftreach learn 2026Q2 2026Q3`"}
	}
	if err := errors.Join(checkWorkers(f.workers), needOut(f.to.dir)); err != nil {
		return first(err)
	}
	if err := f.options.Validate(); err != nil {
		return &usageError{err.Error(), "`driftreach learn --help` says what each flag takes"}
	}
	given, used, err := f.how.read(p.disk)
	if err != nil {
		return err
	}
	if err := f.from.fill(p.disk, given.Inputs, filepath.Dir(f.how.file), nil, nil); err != nil {
		return err
	}
	if err := f.from.need(false); err != nil {
		return err
	}
	inputs, err := f.from.read(p.disk)
	if err != nil {
		return err
	}
	if err := p.mayHold(f.to.dir, dirs, folder.LearnedFile, "answers of a chain"); err != nil {
		return err
	}
	batches, err := p.readBatches("", dirs)
	if err != nil {
		return err
	}
	if broken := chained(batches); len(broken) > 0 {
		return chainError(broken)
	}
	answer, files, err := p.ask(batches, inputs, given, f)
	if err != nil {
		return err
	}
	guarded := slices.Concat(f.from.guarded(p.disk), f.how.guarded(), guardedBatches(dirs...))
	err = folder.Make(p.ctx, p.out(f.to, folder.Learned, guarded), func(to *folder.Folder) error {
		return writeAnswer(to, answer, slices.Concat(used, files), f)
	})
	if err != nil {
		return err
	}
	for _, text := range differences(batches) {
		p.say("warning", text)
	}
	learnClosing(p.stderr, answer, f.to.dir)
	return nil
}

// writeAnswer writes the files with the answers, and the manifest that lists them and what was read.
func writeAnswer(to *folder.Folder, a *learn.Answer, read []mapfile.File, f *learnFlags) error {
	m := mapfile.Manifest{
		Program: folder.Program, Version: version, Assumed: []string{}, Inputs: read, Outputs: []mapfile.File{}, Balance: []mapfile.Balance{},
		Counts: map[string]int{"batches": len(a.Quarters), "new_stands": len(a.Risk.Arrivals), "new_stands_counted": a.Risk.Counted},
		Settings: map[string]any{"learn": map[string]any{
			"clonal_m": f.options.Clonal, "tall_m": f.options.Tall, "later_days": f.options.Later, "before": f.options.Before,
			"certainty": f.options.Certainty, "draws": f.options.Draws, "seed": f.options.Seed,
		}},
	}
	put := func(name, role string, rows int, write func(io.Writer) error) error {
		if err := to.Write(name, write); err != nil {
			return err
		}
		for _, sum := range to.Files() {
			if sum.Name == name {
				m.Outputs = append(m.Outputs, mapfile.File{Name: name, Role: role, SHA256: sum.SHA256, Bytes: sum.Bytes, Read: rows, Accepted: rows})
			}
		}
		return nil
	}
	page := a.Page(version)
	if err := put(folder.LearnedFile, "page", len(page.Parts), func(w io.Writer) error { return report.WriteAnswers(w, &page) }); err != nil {
		return err
	}
	for _, t := range learn.Tables(a) {
		if err := put(learn.File(t), t.Title, t.Rows, func(w io.Writer) error { return mapfile.WriteTable(w, t) }); err != nil {
			return err
		}
	}
	if err := put(adoptFile, "settings to adopt", 1, a.WriteAdopt); err != nil {
		return err
	}
	return to.Write(folder.ManifestName, func(w io.Writer) error { return mapfile.WriteManifest(w, m) })
}

// adoptFile has the settings that the data support.
const adoptFile = "adopt.toml"

// learnClosing prints the end of the command's output.
func learnClosing(w io.Writer, a *learn.Answer, out string) {
	fmt.Fprintf(w, "\ndriftreach learn, %s to %s\n\n", a.Quarters[0], a.Quarters[len(a.Quarters)-1])
	page := a.Page(version)
	for _, part := range page.Parts {
		fmt.Fprintf(w, "  %s\n    %s\n", part.Title, part.Verdict)
	}
	fmt.Fprintf(w, "\n  files in %s\n\nOpen next:\n  %s  in a browser\n  %s  settings that the data support, to copy from\n", oneLine(out),
		oneLine(filepath.Join(out, folder.LearnedFile)), oneLine(filepath.Join(out, adoptFile)))
}

// ask reads the water inputs and the batches, and computes the answers.
func (p *program) ask(batches []readBatch, inputs observed.Inputs, given settings.Settings, f *learnFlags) (*learn.Answer, []mapfile.File, error) {
	h := host.Host{Workers: f.workers, Progress: p.progress(size(inputs)), Disk: p.disk}
	inputs.Quarter = batches[len(batches)-1].summary.Quarter
	water, err := observed.Read(p.ctx, inputs, given, h)
	if err != nil {
		return nil, nil, err
	}
	read := water.Files
	sources := make([]learn.Source, len(batches))
	for i, b := range batches {
		s, err := settings.Of(b.settings)
		if err != nil {
			return nil, nil, notABatch(b.dir, err.Error())
		}
		sources[i] = learn.Source{Folder: earlier.Folder{Name: shownFolder(b.dir), Path: p.standing(b.dir), Version: version}, Quarter: b.summary.Quarter, Settings: s}
	}
	chain, err := learn.Read(p.ctx, p.disk, sources, &water, h.Goroutines())
	if err != nil {
		return nil, nil, err
	}
	for _, b := range chain.Batches {
		for _, file := range b.Files {
			file.Role = mapfile.BatchRole
			read = append(read, file)
		}
	}
	second, file, err := p.secondLooks(f.second)
	if err != nil {
		return nil, nil, err
	}
	read = append(read, file...)
	answer, err := chain.Ask(p.ctx, second, f.options, h.Goroutines())
	return answer, read, err
}

// maxSecondLookBytes is the largest file of second looks. Our choice: a million rows.
const maxSecondLookBytes = 256 << 20

// secondLooks reads a file of second looks, and returns its manifest entry; nothing if there is none.
func (p *program) secondLooks(name string) ([]learn.SecondLook, []mapfile.File, error) {
	if name == "" {
		return nil, nil, nil
	}
	text, err := disk.ReadFile(p.disk, name, maxSecondLookBytes)
	if err != nil {
		return nil, nil, &inputError{fmt.Errorf("read second looks: %s", fault(err)), "check the name, and that the file may be read"}
	}
	looks, err := learn.ReadSecondLooks(bytes.NewReader(text))
	if err != nil {
		return nil, nil, &inputError{fmt.Errorf("read second looks %s: %w", name, err),
			"one row a place in CSV, with decimalLongitude, decimalLatitude, first_date, second_date (2026-07-14), first_found and second_found (yes or no)"}
	}
	file := mapfile.File{Name: shownNames([]string{name})[0], Role: "second looks", SHA256: fmt.Sprintf("%x", sha256.Sum256(text)), Bytes: int64(len(text)), Read: len(looks), Accepted: len(looks)}
	return looks, []mapfile.File{file}, nil
}
