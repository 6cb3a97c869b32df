package folder

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"strings"
	"time"

	"driftreach/internal/check"
	"driftreach/internal/disk"
)

// refusedError says why a folder is not replaced, and what to do.
type refusedError struct{ why, remedy string }

func (e *refusedError) Error() string { return e.why }

// occupant is what already exists at the place of an output folder.
type occupant struct {
	absent  bool
	kind    Kind
	quarter string             // of the batch found there; blank if it is not a batch
	listed  map[string]FileSum // files in its manifest, and the manifest itself
	files   map[string]stamp   // files found, relative to the folder
	found   []string           // their names, sorted
	missing []string           // in the manifest, but not found
	edited  []string           // different from what the manifest says
}

// stamp is size and time of a file when it was checked.
type stamp struct {
	bytes int64
	at    time.Time
}

func (o *occupant) empty() bool { return !o.absent && len(o.found) == 0 }

// whole says whether it is a finished folder with every file as its manifest says.
func (o *occupant) whole() bool {
	return len(o.found)+len(o.missing) > 0 && len(o.missing)+len(o.edited) == 0
}

// occupantOf examines what is at dir. The error is a *refusedError unless dir is absent, empty, or a
// folder of ours with only the files that its manifest lists.
func occupantOf(ctx context.Context, d disk.Disk, dir string) (*occupant, error) {
	info, err := d.Lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &occupant{absent: true}, nil
	case err != nil:
		return nil, err
	case !info.IsDir():
		return nil, &refusedError{"there is something there that is not a folder", otherOut}
	}
	entries, err := d.ReadDir(dir)
	if err != nil || len(entries) == 0 {
		return &occupant{}, err
	}
	listed, head, err := listedFiles(d, dir)
	if err != nil {
		return nil, err
	}
	o := &occupant{files: map[string]stamp{}, quarter: head.Quarter, kind: kindOf(listed, head), listed: listed}
	if o.found, err = disk.FilesUnder(d, dir); err != nil {
		return nil, err
	}
	for _, name := range o.found {
		if err := o.look(ctx, d, dir, name, listed); err != nil {
			return nil, err
		}
	}
	for name := range listed {
		if _, there := o.files[name]; !there {
			o.missing = append(o.missing, name)
		}
	}
	return o, nil
}

// otherOut is the hint about a folder that is not replaced.
const otherOut = "choose another --out, or move that folder away"

// look compares one file of the folder with the manifest.
func (o *occupant) look(ctx context.Context, d disk.Disk, dir, name string, listed map[string]FileSum) error {
	want, ok := listed[name]
	if !ok {
		return &refusedError{"the folder holds a file that is not ours: " + name, otherOut}
	}
	at := filepath.Join(dir, filepath.FromSlash(name))
	info, err := d.Lstat(at)
	if err != nil {
		return err
	}
	o.files[name] = stamp{info.Size(), info.ModTime()}
	if name == ManifestName {
		return nil
	}
	same := info.Mode().IsRegular() && info.Size() == want.Bytes
	if same {
		if same, err = hasSum(ctx, d, at, want.SHA256); err != nil {
			return err
		}
	}
	if !same {
		o.edited = append(o.edited, name)
	}
	return nil
}

// hasSum says whether a file has the given SHA-256.
func hasSum(ctx context.Context, d disk.Disk, path, want string) (bool, error) {
	file, err := d.Open(path)
	if err != nil {
		return false, err
	}
	defer file.Close()
	sum := disk.NewSummed(ctx, file)
	if _, err := io.Copy(io.Discard, sum); err != nil {
		return false, err
	}
	return sum.Sum() == want, nil
}

// Kind is the kind of a folder of ours, in words.
type Kind string

// The kinds of folders.
const (
	Batch   Kind = "a batch"
	Demo    Kind = "a demo"
	Trend   Kind = "a trend"
	Learned Kind = "answers of a chain"
	Parts   Kind = "the parts of a batch"
	Part    Kind = "the result of a part"

	PublicEdition Kind = "a public edition of a batch"
)

// Public is the word in the manifest that marks a public edition.
const Public = "public"

// heading is the part of a manifest about the folder as a whole.
type heading struct {
	Quarter string // of a batch; otherwise blank
	Edition string // blank or Public
}

// The files by which the other kinds of folder are recognised: a trend by its table, the answers of a
// chain by their page, the parts of a batch by the first part, and the result of one part by its own
// file.
const (
	TrendFile   = "trend.csv"
	LearnedFile = "learned.html"
	partsFile   = "0001/part.bin"
	ResultFile  = "result.bin"
)

// kindOf returns the kind of a folder from the files in its manifest, or blank if it is of no kind.
func kindOf(listed map[string]FileSum, head heading) Kind {
	switch {
	case head.Edition == Public:
		return PublicEdition
	case head.Quarter != "":
		return Batch
	}
	for name, kind := range map[string]Kind{TrendFile: Trend, LearnedFile: Learned, partsFile: Parts, ResultFile: Part} {
		if _, is := listed[name]; is { // at most one of these exists
			return kind
		}
	}
	for name := range listed {
		if strings.HasPrefix(name, "inputs/") {
			return Demo
		}
	}
	return ""
}

// mayBeReplaced refuses a folder with edited files unless edited is true.
func (o *occupant) mayBeReplaced(edited bool) error {
	if len(o.edited) == 0 || edited {
		return nil
	}
	// Our choice: enough to find the edited files.
	const shown = 3
	return &refusedError{
		"the folder holds files that were edited since they were made: " + check.FirstOf(o.edited, shown, ", "),
		"save them elsewhere and give --replace-edited, or choose another --out",
	}
}

// unchanged refuses a folder if any file was added, removed or changed since it was examined.
func (o *occupant) unchanged(d disk.Disk, dir string) error {
	if o.absent {
		return nil
	}
	now, err := disk.FilesUnder(d, dir)
	if err != nil {
		return err
	}
	for _, name := range now {
		info, err := d.Lstat(filepath.Join(dir, filepath.FromSlash(name)))
		if err != nil {
			return err
		}
		if then, ok := o.files[name]; !ok || then.bytes != info.Size() || !then.at.Equal(info.ModTime()) {
			return &refusedError{"a file in the folder was changed while this run worked: " + name, "save it elsewhere, and run again"}
		}
	}
	return nil
}

// listedFiles returns the files that the manifest in dir lists, the manifest itself among them, and its
// heading. The error is a *refusedError if there is no manifest of ours.
func listedFiles(d disk.Disk, dir string) (files map[string]FileSum, head heading, err error) {
	strange := func(why string) (map[string]FileSum, heading, error) {
		return nil, heading{}, &refusedError{"the folder has files in it and is not one of ours: " + why, otherOut}
	}
	text, err := disk.ReadFile(d, filepath.Join(dir, ManifestName), MaxManifest)
	var none *disk.NoFileError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return strange("no " + ManifestName)
	case errors.As(err, &none):
		return strange(ManifestName + ": " + none.What())
	case err != nil:
		return nil, heading{}, err
	}
	var manifest struct {
		Program string
		heading
		Outputs []FileSum
	}
	if err := json.Unmarshal(text, &manifest); err != nil {
		return strange(ManifestName + " cannot be read")
	}
	if manifest.Program != Program {
		return strange(ManifestName + " is of another program")
	}
	listed := map[string]FileSum{ManifestName: {Name: ManifestName}}
	for _, output := range manifest.Outputs {
		listed[path.Clean(output.Name)] = output
	}
	return listed, manifest.heading, nil
}
