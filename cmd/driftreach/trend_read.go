package main

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"

	"driftreach/internal/disk"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

const (
	// summaryFile is the file of a batch that a trend reads.
	summaryFile = mapfile.SummaryFile
	everFile    = mapfile.EverFile
	backFile    = mapfile.BackFile

	// maxSummaryBytes is the most that is read of a summary. Our choice: the size of one with a million
	// streams.
	maxSummaryBytes = 256 << 20
)

// readBatch is a finished batch as a trend reads it.
type readBatch struct {
	dir      string // as the user named it
	maker    mapfile.Maker
	summary  trend.Batch
	settings map[string]any
	water    earlier.WaterSums // identifies its water inputs
	files    []mapfile.File    // files read, for the manifest
	ever     []result.EverRow  // stages of all stands ever mapped, at its end

	hash            string // of its manifest
	previous        string // manifest hash of the batch it continues; blank for none
	previousQuarter string // of that batch
}

// batchManifest is the part of a batch's manifest that a trend needs.
type batchManifest struct {
	Quarter         string
	PreviousQuarter string `json:"previous_quarter"`
	Settings        map[string]any
	Inputs, Outputs []mapfile.File
	Water           map[string]string `json:"water_sha256"`
}

// readBatches reads the batches in dirs and returns them by quarter. The folders are inside top, if
// that is not blank; files are named without top.
func (p *program) readBatches(top string, dirs []string) ([]readBatch, error) {
	var all []readBatch
	shown := dirs // for a demo, whose folders the program named itself
	if top == "" {
		shown = shownNames(dirs)
	}
	for i, dir := range dirs {
		if err := p.ctx.Err(); err != nil {
			return nil, err
		}
		b, err := p.readOne(top, dir, shown[i])
		if err != nil {
			return nil, err
		}
		all = append(all, b)
	}
	slices.SortFunc(all, func(a, b readBatch) int {
		return cmp.Or(a.summary.Quarter.Begin().Compare(b.summary.Quarter.Begin()), cmp.Compare(a.dir, b.dir))
	})
	for i := 1; i < len(all); i++ {
		if all[i].summary.Quarter == all[i-1].summary.Quarter {
			return nil, &inputError{
				fmt.Errorf("%s and %s are both batches of %s", all[i-1].dir, all[i].dir, all[i].summary.Quarter), "name each quarter once",
			}
		}
	}
	return all, nil
}

// assemble makes the history of the batches.
func assemble(batches []readBatch) (*trend.History, error) {
	var summaries []trend.Batch
	for _, b := range batches {
		summaries = append(summaries, b.summary)
	}
	h, err := trend.Assemble(summaries, rulesOf(batches))
	if err != nil {
		return nil, &inputError{fmt.Errorf("put the batches in order: %w", err), "see that every batch has its true quarter"}
	}
	return h, nil
}

// rulesOf returns the rules for judging trends, from the newest batch's settings.
func rulesOf(batches []readBatch) trend.Rules {
	rules := trend.DefaultRules()
	if len(batches) == 0 {
		return rules
	}
	table, _ := batches[len(batches)-1].settings["trend"].(map[string]any)
	if r, ok := table["serial_correlation"].(float64); ok && r >= 0 && r < 1 {
		rules.Correlation = r
	}
	return rules
}

// readOne reads one finished batch: its manifest, and its summary after comparing it with the manifest.
// Manifests name the folder as shown.
func (p *program) readOne(top, dir, shown string) (b readBatch, err error) {
	err = p.steadily(filepath.Join(top, dir), func(at string) (err error) {
		b, err = p.readStanding(at, dir, shown)
		return err
	})
	return b, err
}

// readStanding reads the batch dir, whose folder is at a path.
func (p *program) readStanding(at, dir, shown string) (readBatch, error) {
	b := readBatch{dir: dir}
	text, err := disk.ReadFile(p.disk, filepath.Join(at, folder.ManifestName), folder.MaxManifest)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return b, notABatch(dir, p.noManifest(at))
	case err != nil:
		return b, notABatch(dir, folder.ManifestName+": "+without(err))
	}
	if b.maker, err = mapfile.ReadMaker(text); err != nil {
		if newer := (*mapfile.NewerFormatError)(nil); errors.As(err, &newer) {
			return b, &inputError{fmt.Errorf("read batch %s: %w", dir, err), newer.Hint()}
		}
		return b, notABatch(dir, err.Error())
	}
	var m batchManifest
	if err := json.Unmarshal(text, &m); err != nil {
		return b, notABatch(dir, mapfile.ErrUnreadable.Error())
	}
	quarter, err := survey.ParseQuarter(m.Quarter)
	if err != nil {
		return b, notABatch(dir, folder.ManifestName+" names no quarter")
	}
	if b.summary, err = p.readSummary(at, dir, m, quarter); err != nil {
		return b, err
	}
	b.settings, b.water = m.Settings, earlier.WaterSums{Content: m.Water, Files: earlier.SumsByRole(m.Inputs)}
	b.hash, b.previousQuarter = fmt.Sprintf("%x", sha256.Sum256(text)), m.PreviousQuarter
	for _, in := range m.Inputs {
		if in.Role == mapfile.PreviousRole && path.Base(in.Name) == folder.ManifestName {
			b.previous = in.SHA256
		}
	}
	b.files = []mapfile.File{
		listed(shown, folder.ManifestName, text, 1), {
			Name: shown + "/" + summaryFile, Role: mapfile.BatchRole, SHA256: summaryOf(m).SHA256,
			Bytes: summaryOf(m).Bytes, Read: len(b.summary.Rows), Accepted: len(b.summary.Rows),
		},
	}
	if err := p.readEver(&b, at, shown, m); err != nil {
		return b, err
	}
	err = p.readTakenBack(&b, at, shown, m)
	return b, err
}

// readTakenBack reads what corrections took back of the changes of earlier quarters, if the batch has
// the file. The first batch of a chain has none.
func (p *program) readTakenBack(b *readBatch, at, shown string, m batchManifest) error {
	k := slices.IndexFunc(m.Outputs, func(f mapfile.File) bool { return f.Name == backFile })
	if k < 0 {
		return nil
	}
	text, err := p.listedText(at, b.dir, m.Outputs[k])
	if err != nil {
		return damaged(err)
	}
	if b.summary.TakenBack, err = earlier.ReadTakenBack(text); err != nil {
		return damaged(fmt.Errorf("%s: %w", filepath.Join(b.dir, backFile), err))
	}
	b.files = append(b.files, listed(shown, backFile, text, bytes.Count(text, []byte("\n"))-1))
	return nil
}

func listed(dir, name string, text []byte, records int) mapfile.File {
	return mapfile.File{
		Name: filepath.ToSlash(filepath.Join(dir, name)), Role: mapfile.BatchRole, SHA256: fmt.Sprintf("%x", sha256.Sum256(text)),
		Bytes: int64(len(text)), Read: records, Accepted: records,
	}
}

// readEver reads the stages of all stands ever mapped, if the batch has them, for its own quarter.
func (p *program) readEver(b *readBatch, at, shown string, m batchManifest) error {
	k := slices.IndexFunc(m.Outputs, func(f mapfile.File) bool { return f.Name == everFile })
	if k < 0 {
		return nil
	}
	text, err := p.listedText(at, b.dir, m.Outputs[k])
	if err != nil {
		return damaged(err)
	}
	rows, err := earlier.ReadEver(text)
	if err != nil {
		return damaged(fmt.Errorf("%s: %w", filepath.Join(b.dir, everFile), err))
	}
	b.ever = slices.DeleteFunc(rows, func(r result.EverRow) bool { return r.Quarter != b.summary.Quarter.String() })
	b.files = append(b.files, listed(shown, everFile, text, len(rows)))
	return nil
}

// without returns the text of a disk error without its path, which is a temporary one while a demo is
// being written.
func without(err error) string {
	if at := (*fs.PathError)(nil); errors.As(err, &at) {
		return at.Err.Error()
	}
	return err.Error()
}

// summaryOf returns the manifest's entry for the summary; the zero File if there is none.
func summaryOf(m batchManifest) mapfile.File {
	for _, out := range m.Outputs {
		if out.Name == summaryFile {
			return out
		}
	}
	return mapfile.File{}
}

// readSummary reads the summary of the batch dir, whose folder is at a path, after checking size and
// hash against the manifest.
func (p *program) readSummary(at, dir string, m batchManifest, quarter survey.Quarter) (trend.Batch, error) {
	name := filepath.Join(dir, summaryFile)
	want := summaryOf(m)
	if want.Name == "" {
		return trend.Batch{}, notABatch(dir, folder.ManifestName+" lists no "+summaryFile)
	}
	text, err := p.listedText(at, dir, want)
	if err != nil {
		return trend.Batch{}, damaged(err)
	}
	summary, err := trend.ReadSummary(bytes.NewReader(text), quarter)
	if err != nil {
		return trend.Batch{}, damaged(fmt.Errorf("%s: %w", name, err))
	}
	return summary, nil
}

// listedText reads a file of the batch dir, whose folder is at a path, after checking size and hash
// against the manifest.
func (p *program) listedText(at, dir string, want mapfile.File) ([]byte, error) {
	name := filepath.Join(dir, want.Name)
	text, err := disk.ReadFile(p.disk, filepath.Join(at, want.Name), maxSummaryBytes)
	if err != nil {
		return nil, fmt.Errorf("%s: %s", name, without(err))
	}
	if int64(len(text)) != want.Bytes || fmt.Sprintf("%x", sha256.Sum256(text)) != want.SHA256 {
		return nil, fmt.Errorf("%s is not the file that its manifest lists", name)
	}
	return text, nil
}

// noManifest says what is in a place where a batch should be.
func (p *program) noManifest(dir string) string {
	info, err := p.disk.Stat(dir)
	switch {
	case err != nil:
		return fault(err)
	case !info.IsDir():
		return "it is a file"
	}
	return "no " + folder.ManifestName + " in it"
}

func notABatch(dir, why string) error {
	return &inputError{fmt.Errorf("read batch %s: %s", dir, why),
		"name folders that `driftreach batch` has finished, one a quarter; of a demo, the quarters' folders in it"}
}

func damaged(err error) error {
	return &inputError{fmt.Errorf("read batch: %w", err), "run that quarter again; the batch is damaged, or was changed by hand"}
}
