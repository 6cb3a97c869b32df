package part

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"

	"driftreach/internal/check"
	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/spill"
)

// The name of the one file in the folder of a part, or of its result.
const (
	PartFile   = "part.bin"
	ResultFile = folder.ResultFile
)

// Error says why a part or a result cannot be used.
type Error struct{ Problem, Remedy string }

// Error says what is wrong.
func (e *Error) Error() string { return e.Problem }

// Hint returns what the user can do about it.
func (e *Error) Hint() string { return e.Remedy }

// Open opens the file in the folder of a part or of a result, passes it to do, and closes it.
func Open(d disk.Disk, dir, file string, do func(io.ReadSeeker) error) error {
	at, _ := folder.Standing(d, dir)
	opened, err := d.Open(filepath.Join(at, file))
	if err != nil {
		return err
	}
	defer opened.Close()
	info, err := opened.Stat()
	if err != nil {
		return err
	}
	return do(io.NewSectionReader(opened, 0, info.Size()))
}

// HeadOf reads the head of the file in a folder.
func HeadOf(d disk.Disk, dir, file string) (h Head, err error) {
	err = Open(d, dir, file, func(r io.ReadSeeker) error {
		h, err = ReadHead(r)
		return err
	})
	return h, err
}

// Results are the results of all parts of a split, each in its own folder.
type Results struct {
	Split Split
	dirs  []string // by part
	open  OpenResult
}

// OpenResult opens the result of a part, numbered from 1, passes it to do, and closes it.
type OpenResult func(number int, do func(io.ReadSeeker) error) error

// ResultsOf returns the results of a split that are where open finds them.
func ResultsOf(split Split, open OpenResult) *Results {
	r := &Results{Split: split, open: open}
	for n := range split.Parts {
		r.dirs = append(r.dirs, Name(n+1))
	}
	return r
}

// numbered matches the folder names of parts and results.
var numbered = regexp.MustCompile(`^[0-9]{4}$`)

// FindResults finds the results in the folders of dir. The error is an *Error that names every part
// that is missing, cannot be read, or belongs to another split than most do.
func FindResults(d disk.Disk, dir string) (*Results, error) {
	entries, err := d.ReadDir(dir)
	if err != nil {
		return nil, &Error{fmt.Sprintf("results %s: %s", dir, disk.Reason(err)), "name the folder that holds the results, one folder a part"}
	}
	heads, wrong := map[string]Head{}, map[string]string{}
	for _, e := range entries {
		name := e.Name()
		if !numbered.MatchString(name) {
			continue // logs and other files that workers leave beside their results
		}
		h, err := HeadOf(d, filepath.Join(dir, name), ResultFile)
		switch number, _ := strconv.Atoi(name); {
		case errors.Is(err, fs.ErrNotExist):
			wrong[name] = "it holds no result"
		case err != nil:
			wrong[name] = disk.Reason(err)
		case h.Kind != OfResult:
			wrong[name] = "it is " + string(h.Kind)
		case h.Number != number:
			wrong[name] = fmt.Sprintf("it is the result of part %s", Name(h.Number))
		default:
			heads[name] = h
		}
	}
	if len(heads)+len(wrong) == 0 {
		return nil, &Error{"no result of any part is in " + dir, "run `driftreach batch --part PARTS/0001 --out " + dir + "/0001`, and so on for every part"}
	}
	split := usual(heads)
	for name, h := range heads {
		if differs := split.Differs(&h.Split); differs != "" {
			wrong[name] = "it is of another split: " + differs
		} else if h.Number > split.Parts {
			wrong[name] = fmt.Sprintf("there are %d parts", split.Parts)
		}
	}
	r := &Results{Split: split}
	r.open = func(number int, do func(io.ReadSeeker) error) error { return Open(d, r.dirs[number-1], ResultFile, do) }
	for n := 1; n <= split.Parts; n++ {
		name := Name(n)
		r.dirs = append(r.dirs, filepath.Join(dir, name))
		if _, there := heads[name]; !there && wrong[name] == "" {
			wrong[name] = "it is missing"
		}
	}
	return r, told(dir, wrong)
}

// usual returns the split of most of the results; if several are equally frequent, that of the first by
// name.
func usual(heads map[string]Head) Split {
	type votes struct {
		split Split
		first string
		n     int
	}
	by := map[string]*votes{}
	for name, h := range heads { // sorted below
		v, met := by[h.Split.ID()]
		if !met {
			v = &votes{split: h.Split, first: name}
			by[h.Split.ID()] = v
		}
		v.first, v.n = min(v.first, name), v.n+1
	}
	var all []*votes
	for _, v := range by { // sorted below
		all = append(all, v)
	}
	slices.SortFunc(all, func(a, b *votes) int { return cmp.Or(cmp.Compare(b.n, a.n), cmp.Compare(a.first, b.first)) })
	if len(all) == 0 {
		return Split{}
	}
	return all[0].split
}

// mostTold is how many parts an error names. Our choice: as many as a person reads.
const mostTold = 10

// told returns an *Error about the parts that are wrong, by name; nil if there are none.
func told(dir string, wrong map[string]string) error {
	if len(wrong) == 0 {
		return nil
	}
	names := slices.Sorted(maps.Keys(wrong))
	lines := make([]string, len(names))
	for i, name := range names {
		lines[i] = fmt.Sprintf("part %s: %s", name, wrong[name])
	}
	first := names[0]
	return &Error{
		fmt.Sprintf("results %s: %s; nothing was written", dir, check.FirstOf(lines, mostTold, "; ")),
		fmt.Sprintf("run `driftreach batch --part PARTS/%s --out %s` and so on for each of them, or take away those of another split", first, filepath.ToSlash(filepath.Join(dir, first))),
	}
}

// Gather combines the results. now is the split made from the input when it was read again. Outlines and
// pieces of the zone go to the shelf. The error is an *Error, or one of the shelf.
func (r *Results) Gather(now *Split, shelf *spill.Shelf) (*Whole, error) {
	if differs := now.Differs(&r.Split); differs != "" {
		return nil, &Error{"the results are stale: " + differs, "split again, and run the parts again; or put back what was changed"}
	}
	w, wrong := newWhole(now, shelf), map[string]string{}
	for i, dir := range r.dirs {
		err := r.open(i+1, func(file io.ReadSeeker) error {
			result, err := ReadResult(file)
			if err != nil {
				return err
			}
			return w.Add(&result)
		})
		var output *folder.OutputError
		if errors.As(err, &output) {
			return nil, err
		}
		if err != nil {
			wrong[filepath.Base(dir)] = disk.Reason(err)
		}
	}
	if len(wrong) > 0 {
		return nil, told(filepath.Dir(r.dirs[0]), wrong)
	}
	if !w.Complete(now) {
		return nil, &Error{"the results do not hold all of what was cut", "split again, and run the parts again"}
	}
	return w, nil
}
