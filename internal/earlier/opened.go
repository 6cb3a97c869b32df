package earlier

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"slices"

	"driftreach/internal/check"
	"driftreach/internal/correction"
	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/survey"
)

// opened is the folder of an earlier batch whose manifest has been read.
type opened struct {
	ctx      context.Context
	disk     disk.Disk
	from     Folder
	quarter  survey.Quarter
	chain    string // name of the chain
	settings map[string]any
	maker    mapfile.Maker // the program that made it, and the version of its format
	water    WaterSums     // hashes of its files by role, and content sums of its water inputs
	outputs  map[string]mapfile.File
	counts   map[string]int
	balance  []mapfile.Balance
	taken    []correction.Correction // corrections of the chain so far
	read     []mapfile.File          // files read so far, for the manifest
	told     []check.Finding         // findings about it
}

// maxPreviousText is the size limit for files of an earlier batch that are read into memory. Our
// choice: the summaries of a million streams.
const maxPreviousText = 256 << 20

// otherMaker says how the program that made the batch differs from this one; blank if it does not.
// Another program may have computed its figures differently.
func (e *opened) otherMaker() string {
	switch {
	case e.maker.Version != e.from.Version:
		return "version " + e.maker.Version
	case e.maker.Format != mapfile.Format:
		return fmt.Sprintf("format %d", e.maker.Format)
	}
	return ""
}

// open reads the manifest of an earlier batch. The batch must be of a quarter before the given one and
// in a known format.
func open(ctx context.Context, d disk.Disk, from Folder, quarter survey.Quarter) (*opened, error) {
	e := &opened{ctx: ctx, disk: d, from: from, outputs: map[string]mapfile.File{}}
	text, err := disk.ReadFile(d, filepath.Join(from.Path, folder.ManifestName), folder.MaxManifest)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, e.notABatch("no " + folder.ManifestName + " in it")
	case err != nil:
		return nil, e.notABatch(disk.Reason(err))
	}
	if e.maker, err = mapfile.ReadMaker(text); err != nil {
		if newer := (*mapfile.NewerFormatError)(nil); errors.As(err, &newer) {
			return nil, &Error{fmt.Sprintf("the earlier batch %s: %v", from.Name, err), newer.Hint()}
		}
		return nil, e.notABatch(err.Error())
	}
	var m struct {
		Quarter, Chain  string
		Edition         string
		Settings        map[string]any
		Inputs, Outputs []mapfile.File
		Counts          map[string]int
		Balance         []mapfile.Balance
		Corrections     []mapfile.Correction
		Water           map[string]string `json:"water_sha256"`
	}
	if err := json.Unmarshal(text, &m); err != nil {
		return nil, e.notABatch(mapfile.ErrUnreadable.Error())
	}
	if m.Edition == folder.Public {
		return nil, &Error{fmt.Sprintf("the earlier batch %s: it is a public edition, whose places are coarsened", from.Name), "name the batch itself with --previous"}
	}
	if e.quarter, err = survey.ParseQuarter(m.Quarter); err != nil {
		return nil, e.notABatch(folder.ManifestName + " names no quarter")
	}
	if !e.quarter.Begin().Before(quarter.Begin()) {
		return nil, &Error{
			fmt.Sprintf("the earlier batch %s: it is of %s, which is not before %s", from.Name, e.quarter, quarter),
			"name the batch of an earlier quarter with --previous",
		}
	}
	e.counts, e.balance = m.Counts, m.Balance
	if e.taken, err = mapfile.TakenUp(m.Corrections); err != nil {
		return nil, e.damaged(folder.ManifestName + ": " + err.Error())
	}
	e.settings, e.chain, e.water = m.Settings, m.Chain, WaterSums{m.Water, SumsByRole(m.Inputs)}
	if e.chain == "" { // a batch from before chains had names begins a new one
		e.chain = ChainName(fmt.Sprintf("%x", sha256.Sum256(text)))
	}
	for _, out := range m.Outputs {
		e.outputs[out.Name] = out
	}
	e.read = append(e.read, mapfile.File{
		Name: e.shown(folder.ManifestName), Role: mapfile.PreviousRole, SHA256: fmt.Sprintf("%x", sha256.Sum256(text)), Bytes: int64(len(text)), Read: 1, Accepted: 1,
	})
	return e, nil
}

// shown returns a file's name as the user would write it.
func (e *opened) shown(name string) string {
	return filepath.ToSlash(filepath.Join(e.from.Name, name))
}

func (e *opened) notABatch(why string) error {
	return &Error{
		fmt.Sprintf("the earlier batch %s: %s", e.from.Name, why),
		"name the folder of the last finished batch with --previous",
	}
}

func (e *opened) damaged(why string) error {
	return &Error{
		fmt.Sprintf("the earlier batch %s: %s", e.from.Name, why),
		"run that quarter again; the batch is damaged, or was changed by hand",
	}
}

// check reads a file to its end through use, and compares its size and hash with the manifest. A
// difference is reported before anything that use found wrong.
func (e *opened) check(name string, use func(io.Reader) error) error {
	want, ok := e.outputs[name]
	if !ok {
		return e.damaged(folder.ManifestName + " lists no " + name)
	}
	file, err := e.disk.Open(filepath.Join(e.from.Path, filepath.FromSlash(name)))
	if err != nil {
		return e.damaged(name + ": " + disk.Reason(err))
	}
	defer file.Close()
	sum := disk.NewSummed(e.ctx, io.LimitReader(file, want.Bytes+1))
	wrong := use(sum)
	if _, err := io.Copy(io.Discard, sum); err != nil {
		if e.ctx.Err() != nil {
			return err
		}
		return e.damaged(name + ": " + disk.Reason(err))
	}
	if sum.Bytes() != want.Bytes || sum.Sum() != want.SHA256 {
		return e.damaged(name + " is not the file that its manifest lists")
	}
	if unread := (*fs.PathError)(nil); errors.As(wrong, &unread) { // a disk error in a second reading
		return e.damaged(name + ": " + disk.Reason(unread))
	}
	if wrong != nil {
		return e.damaged(name + ": " + wrong.Error())
	}
	return nil
}

// file returns the name of the file with a layer, packed or not; false if neither is listed.
func (e *opened) file(layer string) (name string, listed bool) {
	name = mapfile.PackedName(layer)
	if _, packed := e.outputs[name]; packed {
		return name, true
	}
	_, listed = e.outputs[layer]
	return layer, listed
}

// layer reads a layer, packed or not, with check, and returns the name of its file.
func (e *opened) layer(name string, use func(io.Reader) error) (file string, err error) {
	file, _ = e.file(name)
	if file == name {
		return file, e.check(file, use)
	}
	return file, e.check(file, func(r io.Reader) error {
		inside, err := mapfile.OpenPacked(r)
		if err != nil {
			return err
		}
		return use(inside)
	})
}

// text reads a whole file.
func (e *opened) text(name string) ([]byte, error) {
	if want := e.outputs[name]; want.Bytes > maxPreviousText {
		return nil, e.damaged(fmt.Sprintf("%s is larger than %d bytes", name, maxPreviousText))
	}
	var text bytes.Buffer
	err := e.check(name, func(r io.Reader) error {
		_, err := text.ReadFrom(r)
		return err
	})
	if err != nil {
		return nil, err
	}
	e.listed(name, bytes.Count(text.Bytes(), []byte("\n"))-1)
	return text.Bytes(), nil
}

// listed records a file that was read, for the manifest.
func (e *opened) listed(name string, records int) {
	want := e.outputs[name]
	e.read = append(e.read, mapfile.File{
		Name: e.shown(name), Role: mapfile.PreviousRole, SHA256: want.SHA256, Bytes: want.Bytes, Read: records, Accepted: records,
	})
}

// otherFiles says whether the files of a role differ from those of the earlier batch.
func (e *opened) otherFiles(now *Now, role string) bool {
	return !slices.Equal(now.Water.Files[role], e.water.Files[role])
}
