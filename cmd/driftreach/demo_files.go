package main

import (
	"bytes"
	"io"
	"strings"

	"driftreach/internal/column"
	"driftreach/internal/demo"
	"driftreach/internal/folder"
	"driftreach/internal/format"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

func writeInputs(f *folder.Folder, s demo.Scenario) error {
	for _, file := range s.Files() {
		err := f.Write(file.Name, func(w io.Writer) error {
			_, err := w.Write(file.Text)
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// programmeName is the settings file that the demo writes. With it a command needs only the name of the
// quarter.
const programmeName = "programme.toml"

// writeProgramme writes the settings file that names the demo's inputs.
func writeProgramme(f *folder.Folder, s demo.Scenario) error {
	q := s.Quarters[0]
	named := func(file string) string {
		return inputFolder + "/" + strings.ReplaceAll(file, q.Quarter, "{quarter}")
	}
	in := settings.InputSettings{settings.PreviousKey: {"{previous_quarter}"}, settings.OutKey: {"../out/{quarter}"}}
	for _, file := range q.Inputs(s) {
		in[file.Role] = column.Names{named(file.Name)}
	}
	return f.Write(programmeName, func(w io.Writer) error {
		if err := settings.WriteInputs(w, in); err != nil {
			return err
		}
		if err := settings.WritePlan(w, demoSettings().Plan); err != nil {
			return err
		}
		return settings.WriteReport(w, demoSettings().Report)
	})
}

// demoSettings are the defaults, with the budget of the demo's programme.
func demoSettings() settings.Settings {
	s := settings.Default()
	s.Plan.Budget, s.Plan.Quarters = demo.Budget, demo.PlannedQuarters
	s.Report = settings.ReportSettings{Programme: demo.Programme, GoalAcres: demo.GoalAcres, GoalYear: demo.GoalYear}
	return s
}

// quarterJob returns one quarter of the scenario as a batch to make.
func quarterJob(q demo.QuarterFiles, s demo.Scenario, with batchFlags) (job, error) {
	quarter, err := survey.ParseQuarter(q.Quarter)
	if err != nil {
		return job{}, err
	}
	inputs := observed.Inputs{Of: map[string]observed.Files{}, Quarter: quarter}
	for _, file := range q.Inputs(s) {
		inputs.Of[file.Role] = observed.Files{Sources: []format.Source{textSource(file.Name, file.Text)}}
	}
	with.extras.Crew = true // shows a new user what a crew takes along
	return job{
		inputs:   inputs,
		settings: with.over(demoSettings()), extras: with.extras, workers: with.workers,
	}, nil
}

// textSource returns an input that the demo has just written, with the name that a batch would give it.
func textSource(name string, text []byte) format.Source {
	return format.Source{
		Name: name, Size: int64(len(text)),
		Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(text)), nil },
	}
}

// writeDemoManifest writes the manifest that marks the folder as ours.
func writeDemoManifest(f *folder.Folder, seed uint64) error {
	m := mapfile.Manifest{
		Program: folder.Program, Version: version, Seed: seed,
		Assumed: []string{}, Inputs: []mapfile.File{}, Counts: map[string]int{},
	}
	for _, sum := range f.Files() {
		m.Outputs = append(m.Outputs, mapfile.File{Name: sum.Name, Role: "demo", SHA256: sum.SHA256, Bytes: sum.Bytes})
	}
	return f.Write(folder.ManifestName, func(w io.Writer) error { return mapfile.WriteManifest(w, m) })
}

// Folders in the demo's folder besides those of the quarters.
const (
	inputFolder = "inputs"
	trendFolder = "trend"
)
