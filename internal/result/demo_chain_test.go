package result_test

import (
	"bytes"
	"fmt"
	"path/filepath"
	"sync"
	"testing"

	"driftreach/internal/batch"
	"driftreach/internal/demo"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/format"
	"driftreach/internal/host"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// step is one quarter of the demo's chain: its result, the quarter before it, and its input.
type step struct {
	run      *result.Run
	before   *step // nil for the first
	inputs   map[string][]byte
	settings settings.Settings
}

var demoChain = struct {
	once  sync.Once
	steps []*step
	err   error
}{}

// chain returns the quarters of the demo's country with every option of a batch in use: two water
// stages, draws, a plan of four quarters, blocks, applications. The short tests use three of the
// eight quarters. They are computed only once.
func chain(t *testing.T) []*step {
	t.Helper()
	demoChain.once.Do(func() { demoChain.steps, demoChain.err = computeChain(t) })
	if demoChain.err != nil {
		t.Fatal(demoChain.err)
	}
	return demoChain.steps
}

func chainSettings() settings.Settings {
	s := settings.Default()
	s.Plan.Budget, s.Plan.Quarters, s.Plan.Block = demo.Budget, demo.PlannedQuarters, 0.25
	s.Drift.Stage, s.Drift.Draws = "both", 40
	s.WaterWork.Distances = []float64{7.5, 60}
	return s
}

func computeChain(t *testing.T) ([]*step, error) {
	country, s, h := demo.Make(1), chainSettings(), host.Host{Workers: 2}
	quarters := country.Quarters
	if testing.Short() {
		quarters = quarters[len(quarters)-3:]
	}
	top := t.TempDir()
	var steps []*step
	for i, q := range quarters {
		one := &step{inputs: map[string][]byte{}, settings: s}
		at, err := survey.ParseQuarter(q.Quarter)
		if err != nil {
			return nil, err
		}
		in := observed.Inputs{Of: map[string]observed.Files{}, Quarter: at}
		for _, f := range q.Inputs(country) {
			one.inputs[f.Role] = f.Text
			in.Of[f.Role] = observed.Files{Sources: []format.Source{testkit.Source(f.Name, bytes.NewReader(f.Text))}}
		}
		seen, err := observed.Read(t.Context(), in, s, h)
		if err != nil {
			return nil, err
		}
		if i == 0 {
			seen, err = batch.Begin(seen, s)
		} else {
			one.before = steps[i-1]
			from := earlier.Folder{Name: quarters[i-1].Quarter, Path: filepath.Join(top, quarters[i-1].Quarter), Version: "test"}
			seen, err = batch.GoOn(t.Context(), from, seen, s, h)
		}
		if err != nil {
			return nil, err
		}
		if one.run, err = batch.Compute(t.Context(), seen, s, h); err != nil {
			return nil, fmt.Errorf("%s: %w", q.Quarter, err)
		}
		steps = append(steps, one)
		if i == len(quarters)-1 {
			break // no later quarter reads it
		}
		err = folder.Make(t.Context(), folder.Out{Dir: filepath.Join(top, q.Quarter)}, func(f *folder.Folder) error {
			return batch.Delivery{Version: "test", Settings: s, Inputs: seen.Files, Water: seen.WaterContent(), Corrections: seen.Corrections}.Deliver(f, one.run, h)
		})
		if err != nil {
			return nil, err
		}
	}
	return steps, nil
}
