package folder

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"strings"
	"time"

	"driftreach/internal/disk"
)

// refusedError says why a folder will not be replaced, and what to do.
type refusedError struct{ why, remedy string }

func (e *refusedError) Error() string { return e.why }

// occupant is what is already there where a folder is to be put.
type occupant struct {
	absent  bool
	kind    Kind
	quarter string             // of the batch that stands there; blank for what is no batch
	listed  map[string]FileSum // what its manifest answers for, itself among them
	files   map[string]stamp   // below it, from its top
	found   []string           // their names, in order
	missing []string           // listed by its manifest and not there
	edited  []string           // not what its manifest says
}

// stamp is how a file looked when it was checked.
type stamp struct {
	bytes int64
	at    time.Time
}

func (o *occupant) empty() bool { return !o.absent && len(o.found) == 0 }

// whole says that it is a finished folder, every file as its manifest says.
func (o *occupant) whole() bool {
	return len(o.found)+len(o.missing) > 0 && len(o.missing)+len(o.edited) == 0
}

// occupantOf looks at what is at dir. The error is a *refusedError when it is
// neither absent nor empty nor a folder of ours that holds nothing but the files
// its manifest lists.
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

// otherOut is the hint about a folder that will not be replaced.
const otherOut = "choose another --out, or move that folder away"

// look checks one file of the folder against the manifest.
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

// hasSum says whether a file has the SHA-256.
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

// Kind is what a folder of ours is, in words.
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

// Public is the word by which the manifest of a public edition tells that it is one.
const Public = "public"

// heading is what a manifest says of the folder as a whole.
type heading struct {
	Quarter string // of a batch; blank for what is none
	Edition string // blank or Public
}

// The files by which other folders are recognised: that of a trend by its table, that of a
// chain's answers by its page, parts of a batch by the first of them, and what came of
// a part by what it holds.
const (
	TrendFile   = "trend.csv"
	LearnedFile = "learned.html"
	PartsFile   = "0001/part.bin"
	PartFile    = "result.bin"
)

// kindOf returns the kind of a folder by the files its manifest lists, blank where it is none of
// them.
func kindOf(listed map[string]FileSum, head heading) Kind {
	switch {
	case head.Edition == Public:
		return PublicEdition
	case head.Quarter != "":
		return Batch
	}
	for name, kind := range map[string]Kind{TrendFile: Trend, LearnedFile: Learned, PartsFile: Parts, PartFile: Part} {
		if _, is := listed[name]; is { // one of them at most
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

// mayBeReplaced refuses a folder with edited files, unless they may go.
func (o *occupant) mayBeReplaced(edited bool) error {
	if len(o.edited) == 0 || edited {
		return nil
	}
	// Our choice: enough to find them by.
	const shown = 3
	names := strings.Join(o.edited[:min(len(o.edited), shown)], ", ")
	if more := len(o.edited) - shown; more > 0 {
		names += fmt.Sprintf(" and %d more", more)
	}
	return &refusedError{
		"the folder holds files that were edited since they were made: " + names,
		"save them elsewhere and give --replace-edited, or choose another --out",
	}
}

// unchanged refuses a folder of which a file came, went or changed since it was
// looked at.
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

// listedFiles returns the files that the manifest in dir answers for, itself
// among them, and the quarter it names. The error is a *refusedError when there is no manifest of ours.
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
