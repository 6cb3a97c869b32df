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

// fill takes from the settings what no flag names: the files of the inputs, their
// reference systems, the batch before and the folder to make. previous and out may
// be nil.
func (f *inputFlags) fill(d disk.Disk, named settings.InputSettings, folder string, previous, out *string) error {
	var quarter survey.Quarter
	if f.quarter != "" { // one that cannot be read is told of later
		quarter, _ = survey.ParseQuarter(f.quarter)
	}
	for _, many := range []struct {
		flag  string
		names []string
		into  *[]string
	}{{"points", named.Points, &f.points}, {"surveyed", named.Surveyed, &f.surveyed}, {"treatments", named.Treatments, &f.treatments}, {"corrections", named.Corrections, &f.corrections}} {
		if f.flags.Changed(many.flag) {
			continue
		}
		for _, name := range many.names {
			filled, ok := settings.FillQuarter(name, quarter)
			if !ok {
				return quarterNeeded(many.flag)
			}
			files, err := matching(d, many.flag, fromSettings(folder, filled))
			if err != nil {
				return err
			}
			*many.into = append(*many.into, files...)
		}
	}
	for _, single := range []struct {
		flag, name string
		into       *string
		path       bool
	}{
		{"streams", named.Streams, &f.streams, true}, {"works", named.Works, &f.works, true}, {"units", named.Units, &f.units, true},
		{"barriers", named.Barriers, &f.barriers, true}, {"water", named.Water, &f.water, true}, {"previous", named.Previous, previous, true}, {"out", named.Out, out, true},
		{"points-crs", named.PointsCRS, &f.pointsCRS, false}, {"streams-crs", named.StreamsCRS, &f.streamsCRS, false},
		{"works-crs", named.WorksCRS, &f.worksCRS, false}, {"units-crs", named.UnitsCRS, &f.unitsCRS, false},
		{"surveyed-crs", named.SurveyedCRS, &f.surveyedCRS, false}, {"treatments-crs", named.TreatmentsCRS, &f.treatmentsCRS, false},
		{"barriers-crs", named.BarriersCRS, &f.barriersCRS, false}, {"water-crs", named.WaterCRS, &f.waterCRS, false},
	} {
		if single.into == nil || single.name == "" || f.flags.Changed(single.flag) {
			continue
		}
		filled, ok := settings.FillQuarter(single.name, quarter)
		if !ok {
			return quarterNeeded(single.flag)
		}
		*single.into = filled
		if single.path {
			*single.into = fromSettings(folder, filled)
		}
		if single.path && single.flag != "previous" && single.flag != "out" {
			files, err := matching(d, single.flag, *single.into)
			if err != nil {
				return err
			}
			if len(files) > 1 {
				return &usageError{fmt.Sprintf("inputs.%s of the settings fits %d files, and one is taken", single.flag, len(files)), "name one file"}
			}
			*single.into = files[0]
		}
	}
	return f.previousThere(d, previous)
}

// previousThere refuses a batch before that the settings name and that is not there:
// to begin a chain is to be asked for.
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
	return &usageError{fmt.Sprintf("inputs.%s of the settings is named by the quarter, and there is none", flag), "name it with --quarter, for example --quarter 2026Q3"}
}

// fromSettings is a path of the settings file, which counts from the file's folder.
func fromSettings(folder, name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(folder, filepath.FromSlash(name))
}

// matching returns the files that a path fits whose last part may be a pattern, in
// the order of their names.
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
