package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/part"
)

// partFlags are the flags with which batch computes one part.
type partFlags struct {
	part  string
	parts string
	index bool
}

func (f *partFlags) add(flags *pflag.FlagSet) {
	flags.StringVar(&f.part, "part", "", "make only this part of a split, as in `PARTS/0007`; its result goes to --out")
	flags.StringVar(&f.parts, "parts", "", "make one part of the split in `PARTS`, with --index; its result gets its own folder in --out")
	flags.BoolVar(&f.index, "index", false, "take the number of the part from the scheduler: "+strings.Join(indexNames(), ", "))
	group(flags, inputGroup)
}

func (f *partFlags) given() bool { return f.part != "" || f.parts != "" || f.index }

// indexVariables are the environment variables in which schedulers give the number of a job, and the
// first number. Slurm's numbers come from --array, in our documents from 1. Those of Kubernetes
// (Indexed Job) and AWS Batch (array job) always begin with 0.
var indexVariables = []struct {
	name  string
	first int
}{{"SLURM_ARRAY_TASK_ID", 1}, {"JOB_COMPLETION_INDEX", 0}, {"AWS_BATCH_JOB_ARRAY_INDEX", 0}}

func indexNames() []string {
	var names []string
	for _, v := range indexVariables {
		names = append(names, v.name)
	}
	return names
}

// index returns the number of the part, from 1, that the scheduler gives.
func index(lookup func(string) (string, bool)) (int, error) {
	var found []string
	number := 0
	for _, v := range indexVariables {
		text, ok := lookup(v.name)
		if !ok {
			continue
		}
		found = append(found, v.name)
		n, err := strconv.Atoi(text)
		if number = n - v.first + 1; err != nil || number < 1 || number > part.Most {
			return 0, &usageError{fmt.Sprintf("%s is %s, which is no part", v.name, text), fmt.Sprintf("number the jobs from %d", v.first)}
		}
	}
	switch len(found) {
	case 0:
		return 0, &usageError{"no scheduler says which part this is", "--index takes it from " + strings.Join(indexNames(), ", ") + "; by hand write --part PARTS/0007"}
	case 1:
		return number, nil
	}
	return 0, &usageError{"two schedulers say which part this is: " + strings.Join(found, " and "), "write --part PARTS/0007"}
}

// place returns the folder of the part and the folder of its result.
func (f *partFlags) place(out string) (from, to string, err error) {
	switch {
	case f.part != "" && (f.parts != "" || f.index):
		return "", "", &usageError{"--part names the part already", "leave out --parts and --index"}
	case f.part != "":
		return f.part, out, nil
	case f.parts == "" || !f.index:
		return "", "", &usageError{"--parts and --index go together", "write --parts PARTS --index, or --part PARTS/0007"}
	}
	n, err := index(os.LookupEnv)
	return filepath.Join(f.parts, part.Name(n)), filepath.Join(out, part.Name(n)), err
}

// withPart are the flags that may be given with --part.
var withPart = []string{"part", "parts", "index", "out", "workers", "replace-edited", "replace-other"}

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
	head.Kind = part.Made
	if p.stands(to, head) {
		fmt.Fprintf(p.stderr, "part %s of %d stands already in %s\n", part.Name(head.Number), head.Plan.Parts, oneLine(to))
		return nil
	}
	line.to.dir = to
	out := p.out(line.to, folder.Part, []folder.Guarded{{What: "the part " + from, Path: from}})
	var result part.Result
	err = folder.Make(p.ctx, out, func(to *folder.Folder) error {
		if result, err = p.make(from, line.with.workers); err != nil {
			return err
		}
		err := to.Write(part.MadeFile, func(w io.Writer) error { return result.Write(w, head) })
		if err != nil {
			return err
		}
		return writeListing(to, "result")
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(p.stderr, "part %s of %d in %s: %s, %s of the zone\n", part.Name(head.Number), head.Plan.Parts, oneLine(to),
		plural(len(result.Stands), "stand"), plural(len(result.Zone), "piece"))
	return nil
}

// stands says whether a folder holds the complete result for a head, with nothing left beside it by a
// worker that was killed.
func (p *program) stands(dir string, h part.Head) bool {
	there, err := part.HeadOf(p.disk, dir, part.MadeFile)
	return err == nil && there.Kind == h.Kind && there.Number == h.Number && there.Plan.ID() == h.Plan.ID() && !folder.Left(p.disk, dir)
}

// partHead reads the head of a part, and refuses a part cut by another version.
func (p *program) partHead(dir string) (part.Head, error) {
	h, err := part.HeadOf(p.disk, dir, part.CutFile)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return h, &part.Error{Problem: fmt.Sprintf("part %s is not there", dir), Remedy: "name a folder that split made, as in PARTS/0007"}
	case err != nil:
		return h, &part.Error{Problem: fmt.Sprintf("part %s: %s", dir, disk.Reason(err)), Remedy: "split again, or copy it again"}
	case h.Kind != part.Cut:
		return h, &part.Error{Problem: fmt.Sprintf("part %s: it is %s", dir, h.Kind), Remedy: "name a folder that split made, as in PARTS/0007"}
	}
	return h, sameMaker("part "+dir, h.Plan)
}

// maker is the plan, with version and machine, of everything this program computes here.
func maker() part.Plan { return part.Plan{Version: version, Machine: runtime.GOARCH} }

// sameMaker refuses what another version of the program made, or another processor family, which may
// round the last bit differently.
func sameMaker(what string, made part.Plan) error {
	here := maker()
	if made.Version == here.Version && made.Machine == here.Machine {
		return nil
	}
	return &part.Error{Problem: what + ": " + here.Differs(&made), Remedy: "use one version and one family of processors everywhere, and split again"}
}

// make computes the part in a folder.
func (p *program) make(dir string, workers int) (part.Result, error) {
	host := p.host(job{workers: workers})
	done := host.Listener().Stage("make the part")
	defer done()
	var cut part.Part
	err := part.Open(p.disk, dir, part.CutFile, func(file io.ReadSeeker) (err error) {
		cut, err = part.ReadPart(file)
		return err
	})
	if err != nil {
		return part.Result{}, &part.Error{Problem: fmt.Sprintf("part %s: %s", dir, disk.Reason(err)), Remedy: "split again, or copy it again"}
	}
	return cut.Make(p.ctx, host.Goroutines())
}
