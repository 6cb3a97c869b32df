// Package verify checks a finished batch folder: hashes and counts against the manifest, every file
// against the standard of its format, totals against rows, acreages against footprints, and the
// previous batch against the hash that this batch recorded. It changes nothing and needs only the
// folder, for example when an analyst received one by mail.
package verify

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"

	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/survey"
)

// kindOf returns the kind of folder that a manifest describes; blank if it is not one that can be
// verified.
func kindOf(m *mapfile.Manifest) folder.Kind {
	if m.Quarter != "" {
		return folder.Batch
	}
	for _, out := range m.Outputs {
		switch out.Name {
		case folder.TrendFile:
			return folder.Trend
		case folder.LearnedFile:
			return folder.Learned
		}
	}
	return ""
}

// ErrNoBatch says that a folder is not a finished batch.
var ErrNoBatch = errors.New("it is no finished batch")

// Folder verifies the finished batch, trend or answers of a chain in dir. beside has the folders next
// to it, in which the batches it was made from are looked for; it may be nil. Problems are in the
// report. The error is that of ctx, a *mapfile.NewerFormatError, or wraps ErrNoBatch.
func Folder(ctx context.Context, dir, beside fs.FS) (Report, error) {
	var r Report
	text, _, err := read(ctx, dir, manifestFile, maxManifest)
	if err != nil {
		return r, fmt.Errorf("%w: no %s that can be read in it", ErrNoBatch, manifestFile)
	}
	maker, err := mapfile.ReadMaker(text)
	if newer := (*mapfile.NewerFormatError)(nil); errors.As(err, &newer) {
		return r, newer
	}
	if err != nil {
		return r, fmt.Errorf("%w: %w", ErrNoBatch, err)
	}
	var m mapfile.Manifest
	if err := json.Unmarshal(text, &m); err != nil {
		return r, fmt.Errorf("%w: %s: %v", ErrNoBatch, manifestFile, err)
	}
	if r.Kind = kindOf(&m); r.Kind == "" {
		return r, fmt.Errorf("%w: %s is not that of a batch, a trend or answers of a chain", ErrNoBatch, manifestFile)
	}
	r.Quarter, r.Version, r.Format, r.Edition, r.Earlier = m.Quarter, maker.Version, maker.Format, m.Edition, m.Earlier
	if _, err := survey.ParseQuarter(m.Quarter); r.Kind == folder.Batch && err != nil {
		r.addf(manifestFile, "names no quarter: %q", m.Quarter)
	}
	if !mapfile.KnownVersion(m.Formats) {
		r.addf(manifestFile, "names format_version %q, and this version of driftreach knows %s", m.Formats, mapfile.FormatVersion)
	}
	r.unlisted(dir, &m)
	kept := map[string][]byte{}
	for _, want := range m.Outputs {
		if err := ctx.Err(); err != nil {
			return r, err
		}
		data := r.file(ctx, dir, want)
		name := want.Name
		packed := path.Ext(name) == ".zip"
		if packed {
			name = mapfile.LayerIn(name)
		}
		if r.Kind != folder.Batch || compared(name) || inWorkbook(name, &m) || m.Edition != "" && (path.Ext(name) == ".csv" || slices.Contains(onGrid, name)) {
			if packed && data != nil {
				data, _ = unpacked(name, data) // an archive that cannot be unpacked is reported already
			}
			kept[name] = data
		}
	}
	switch r.Kind {
	case folder.Trend:
		r.trended(kept)
		r.chained(ctx, beside, kept, &m)
		return r, ctx.Err()
	case folder.Learned:
		r.learned(kept, &m)
		r.chained(ctx, beside, kept, &m)
		return r, ctx.Err()
	}
	r.figures(kept[standsFile], kept[absentFile], kept[summaryFile], &m)
	r.beside(kept)
	if m.Edition != "" {
		r.public(kept, &m)
	}
	r.before(ctx, beside, &m)
	return r, ctx.Err()
}

// unlisted looks for files that the manifest does not list, and for names in it that lead out of the
// folder.
func (r *Report) unlisted(folder fs.FS, m *mapfile.Manifest) {
	listed := map[string]bool{manifestFile: true}
	for _, out := range m.Outputs {
		if !fs.ValidPath(out.Name) {
			r.addf(manifestFile, "lists %q, which is no name inside the folder", out.Name)
		}
		if listed[out.Name] {
			r.addf(manifestFile, "lists %s twice", out.Name)
		}
		listed[out.Name] = true
	}
	err := fs.WalkDir(folder, ".", func(name string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() && !listed[name] {
			r.addf(name, "is not listed in %s", manifestFile)
		}
		return err
	})
	if err != nil {
		r.addf("", "the folder cannot be read whole: %v", err)
	}
}

// file checks one file against its manifest entry and its standard, and returns its contents; nil if it
// differs from the manifest.
func (r *Report) file(ctx context.Context, folder fs.FS, want mapfile.File) []byte {
	f := File{Name: want.Name, Features: -1}
	before := len(r.Problems)
	defer func() {
		f.Sound = len(r.Problems) == before
		r.Files = append(r.Files, f)
	}()
	data, sum, err := read(ctx, folder, want.Name, maxChecked)
	if err != nil {
		r.addf(want.Name, "cannot be read: %v", reason(err))
		return nil
	}
	if f.Bytes = int64(len(data)); f.Bytes != want.Bytes || sum != want.SHA256 {
		r.addf(want.Name, "is not the file that %s lists: it was changed since", manifestFile)
		return nil
	}
	if path.Ext(want.Name) == ".csv" {
		r.bounded(want.Name, data)
	}
	check := formOf(want.Name)
	if check == nil {
		return data
	}
	found := check(data)
	for _, p := range found.Problems {
		r.addf(want.Name, "%s", p)
	}
	if more := found.More(); more > 0 {
		r.addf(want.Name, "and %d more", more)
	}
	if f.Features = found.Features; f.Features != want.Read && counted(want.Name) {
		r.addf(want.Name, "holds %d records, and %s says %d", f.Features, manifestFile, want.Read)
	}
	return data
}

// before looks for the batch that this one continues, in a folder with the name given in the manifest.
func (r *Report) before(ctx context.Context, beside fs.FS, m *mapfile.Manifest) {
	at := slices.IndexFunc(m.Inputs, func(f mapfile.File) bool {
		return f.Role == mapfile.PreviousRole && path.Base(f.Name) == manifestFile
	})
	if at < 0 {
		return
	}
	r.Before = NotFound
	want := m.Inputs[at]
	if beside == nil || !fs.ValidPath(want.Name) {
		return
	}
	_, sum, err := read(ctx, beside, want.Name, maxManifest)
	switch {
	case err != nil:
	case sum == want.SHA256:
		r.Before = Same
	default:
		r.Before = Other
		r.addf("", "%s is not the batch that this one continues: it was run again, or is another one", path.Dir(want.Name))
	}
}
