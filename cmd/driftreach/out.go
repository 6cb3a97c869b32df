package main

import (
	"os"
	"strings"

	"github.com/spf13/pflag"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
)

// outFlags are the flags for the folder that a command writes.
type outFlags struct {
	dir    string
	edited bool
	other  bool
}

func (f *outFlags) add(flags *pflag.FlagSet, usual, what string) {
	group(flags, inputGroup) // the flags that the command defined before
	flags.StringVar(&f.dir, "out", usual, "`DIR` to make; an earlier "+what+" there is replaced, anything else is refused")
	flags.BoolVar(&f.edited, "replace-edited", false, "replace the earlier "+what+" even if its files were edited since they were made")
	group(flags, outputGroup)
}

// addOther adds the flag that allows replacing another folder of ours.
func (f *outFlags) addOther(flags *pflag.FlagSet, of string) {
	flags.BoolVar(&f.other, "replace-other", false, "replace what driftreach made there even if it is "+of)
	group(flags, outputGroup)
}

// out returns the folder that a command writes, and what the command must not overwrite.
func (p *program) out(to outFlags, kind folder.Kind, guarded []folder.Guarded) folder.Out {
	return folder.Out{
		Dir: to.dir, Kind: kind, Edited: to.edited, Other: to.other, Guarded: guarded, Disk: p.disk,
		Warn: func(text string) { p.say("warning", text) },
	}
}

// besides are the endings of sidecar files that are read with an input.
var besides = []string{".dbf", ".shx", ".prj", ".cpg"}

// guarded returns the files that the flags name, and their sidecar files.
func (f *inputFlags) guarded(d disk.Disk) []folder.Guarded {
	var all []folder.Guarded
	for _, name := range f.named() {
		file, _ := splitLayer(d, name)
		all = append(all, folder.Guarded{What: "the input " + name, Path: file})
		for _, ending := range besides {
			if path, err := pathBeside(d, file, ending); err == nil {
				all = append(all, folder.Guarded{What: ending + " of the input " + name, Path: path})
			}
		}
	}
	for _, r := range f.roles {
		system := r.system
		if system == "" {
			continue
		}
		if _, err := d.Stat(system); err == nil {
			all = append(all, folder.Guarded{What: "the reference system's file " + system, Path: system})
		}
	}
	return all
}

// guardedBatches returns finished batches that an output must not overwrite.
func guardedBatches(dirs ...string) []folder.Guarded {
	var all []folder.Guarded
	for _, dir := range dirs {
		if dir != "" {
			all = append(all, folder.Guarded{What: "the batch " + strings.TrimSuffix(dir, "/"), Path: dir})
		}
	}
	return all
}

// sameFile says whether two paths are the same file.
func sameFile(d disk.Disk, one, other string) bool {
	first, err := d.Stat(one)
	if err != nil {
		return false
	}
	second, err := d.Stat(other)
	return err == nil && os.SameFile(first, second)
}
