package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

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

// withPart are the flags that may be given with --part.
var withPart = []string{"part", "parts", "index", "out", "workers", "replace-edited", "replace-other"}

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
