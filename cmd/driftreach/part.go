package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"

	"github.com/spf13/pflag"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/part"
)

// runPart computes one part. An existing result is left as it is.
func (p *program) runPart(line *batchLine, f partFlags) error {
	var other string
	line.flags.Visit(func(flag *pflag.Flag) {
		if !slices.Contains(withPart, flag.Name) {
			other = flag.Name
		}
	})
	if other != "" {
		return &usageError{"--" + other + " is part of the split already", "leave it out; another --" + other + " is another split"}
	}
	if err := needOut(line.to.dir); err != nil {
		return err
	}
	from, to, err := f.place(line.to.dir)
	if err != nil {
		return err
	}
	head, err := p.partHead(from)
	if err != nil {
		return err
	}
	head.Kind = part.OfResult
	if p.stands(to, head) {
		fmt.Fprintf(p.stderr, "part %s of %d stands already in %s\n", part.Name(head.Number), head.Split.Parts, oneLine(to))
		return nil
	}
	line.to.dir = to
	out := p.out(line.to, folder.Part, []folder.Guarded{{What: "the part " + from, Path: from}})
	var result part.Result
	err = folder.Make(p.ctx, out, func(to *folder.Folder) error {
		if result, err = p.make(from, line.with.workers); err != nil {
			return err
		}
		err := to.Write(part.ResultFile, func(w io.Writer) error { return result.Write(w, head) })
		if err != nil {
			return err
		}
		return writeListing(to, "result")
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(p.stderr, "part %s of %d in %s: %s, %s of the zone\n", part.Name(head.Number), head.Split.Parts, oneLine(to),
		plural(len(result.Stands), "stand"), plural(len(result.Zone), "piece"))
	return nil
}

// stands says whether a folder holds the complete result for a head, with nothing left beside it by a
// worker that was killed.
func (p *program) stands(dir string, h part.Head) bool {
	there, err := part.HeadOf(p.disk, dir, part.ResultFile)
	return err == nil && there.Kind == h.Kind && there.Number == h.Number && there.Split.ID() == h.Split.ID() && !folder.Left(p.disk, dir)
}

// partHead reads the head of a part, and refuses a part that another version made.
func (p *program) partHead(dir string) (part.Head, error) {
	h, err := part.HeadOf(p.disk, dir, part.PartFile)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return h, &part.Error{Problem: fmt.Sprintf("part %s is not there", dir), Remedy: "name a folder that split made, as in PARTS/0007"}
	case err != nil:
		return h, &part.Error{Problem: fmt.Sprintf("part %s: %s", dir, disk.Reason(err)), Remedy: "split again, or copy it again"}
	case h.Kind != part.OfPart:
		return h, &part.Error{Problem: fmt.Sprintf("part %s: it is %s", dir, h.Kind), Remedy: "name a folder that split made, as in PARTS/0007"}
	}
	return h, sameMaker("part "+dir, h.Split)
}

// make computes the part in a folder.
func (p *program) make(dir string, workers int) (part.Result, error) {
	host := p.host(job{workers: workers})
	done := host.Listener().Stage("make the part")
	defer done()
	var one part.Part
	err := part.Open(p.disk, dir, part.PartFile, func(file io.ReadSeeker) error {
		size, err := file.Seek(0, io.SeekEnd)
		if err != nil {
			return err
		}
		collect(collectOfPart(size))
		one, err = part.ReadPart(file)
		return err
	})
	if err != nil {
		return part.Result{}, &part.Error{Problem: fmt.Sprintf("part %s: %s", dir, disk.Reason(err)), Remedy: "split again, or copy it again"}
	}
	one.Write = mapfile.ZoneText
	return one.Make(p.ctx, host.Goroutines())
}
