package main

import (
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"strings"

	"driftreach/internal/disk"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// fill takes from the settings what no flag gives: the input files, their reference systems, the
// previous batch and the output folder. previous and out may be nil.
func (f *inputFlags) fill(d disk.Disk, named settings.InputSettings, folder string, previous, out *string) error {
	var quarter survey.Quarter
	if f.quarter != "" { // an invalid quarter is reported later
		quarter, _ = survey.ParseQuarter(f.quarter)
	}
	singles := []single{{settings.PreviousKey, settings.PreviousKey, previous, true}, {settings.OutKey, settings.OutKey, out, true}}
	for _, r := range f.roles {
		singles = append(singles, single{r.systemFlag(), settings.SystemKey(r.Name), &r.system, false})
		if f.flags.Changed(r.Name) {
			continue
		}
		files, err := f.filesOf(d, r, named[r.Name], folder, quarter)
		if err != nil {
			return err
		}
		if r.Many {
			r.many = append(r.many, files...)
		} else if len(files) > 0 {
			r.one = files[0]
		}
	}
	for _, s := range singles {
		name := named.One(s.key)
		if s.into == nil || name == "" || f.flags.Changed(s.flag) {
			continue
		}
		filled, ok := settings.FillQuarter(name, quarter)
		if !ok {
			return quarterNeeded(s.flag)
		}
		if *s.into = filled; s.path {
			*s.into = fromSettings(folder, filled)
		}
	}
	return f.previousThere(d, previous)
}

// single is a setting with a single name, and the flag that takes precedence over it.
type single struct {
	flag, key string
	into      *string // nil if the command does not have the flag
	path      bool
}

// filesOf returns the files that the settings name for a role.
func (f *inputFlags) filesOf(d disk.Disk, r *roleFlags, names []string, folder string, quarter survey.Quarter) ([]string, error) {
	var all []string
	for _, name := range names {
		if name == "" && !r.Many {
			continue
		}
		filled, ok := settings.FillQuarter(name, quarter)
		if !ok {
			return nil, quarterNeeded(r.Name)
		}
		files, err := matching(d, r.Name, fromSettings(folder, filled))
		if err != nil {
			return nil, err
		}
		all = append(all, files...)
	}
	if !r.Many && len(all) > 1 {
		return nil, &usageError{fmt.Sprintf("inputs.%s of the settings fits %d files, and one is taken", r.Name, len(all)), "name one file"}
	}
	return all, nil
}

// previousThere refuses a missing previous batch that the settings name: a new chain must be asked for.
func (f *inputFlags) previousThere(d disk.Disk, previous *string) error {
	if previous == nil || *previous == "" || f.flags.Changed("previous") {
		return nil
	}
	if _, err := d.Stat(*previous); err != nil {
		return &inputError{
			fmt.Errorf("the settings name %s as the batch before, and it is not there", *previous),
			"run that quarter first, name another with --previous DIR, or begin a chain with --previous=",
		}
	}
	return nil
}

func quarterNeeded(flag string) error {
	return &usageError{fmt.Sprintf("inputs.%s of the settings contains {quarter}, but no quarter is given", flag), "name it with --quarter, for example --quarter 2026Q3"}
}

// fromSettings returns a path from the settings file, which is relative to the folder of that file.
func fromSettings(folder, name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(folder, filepath.FromSlash(name))
}

// matching returns the files that match a path whose last part may be a pattern, sorted by name.
func matching(d disk.Disk, flag, name string) ([]string, error) {
	folder, pattern := filepath.Split(name)
	if !strings.ContainsAny(pattern, "*?[") {
		return []string{name}, nil
	}
	entries, err := d.ReadDir(filepath.Clean("./" + folder))
	if filepath.IsAbs(folder) {
		entries, err = d.ReadDir(filepath.Clean(folder))
	}
	var files []string
	for _, e := range entries {
		if ok, _ := path.Match(pattern, e.Name()); ok && e.Type()&fs.ModeDir == 0 {
			files = append(files, folder+e.Name())
		}
	}
	if len(files) == 0 {
		reason := "no file there fits"
		if err != nil {
			reason = fault(err)
		}
		return nil, &inputError{fmt.Errorf("inputs.%s of the settings is %s: %s", flag, name, reason), "check the pattern and the quarter, or name the files with --" + flag}
	}
	return files, nil
}
