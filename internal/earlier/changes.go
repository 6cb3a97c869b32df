package earlier

import (
	"bytes"
	"encoding/csv"
	"fmt"

	"driftreach/internal/allocate"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/trend"
)

// lookChanges reads what each stand added to the changes of the chain so far, and what corrections took
// back of it. A folder from before this was recorded, if it continues another, gives a trace for each
// stand instead: it may have added any amount up to then.
func (e *opened) lookChanges(p *Batch) ([]result.LookChange, error) {
	if _, goesOn := e.outputs[mapfile.LineageFile]; !goesOn {
		return nil, nil
	}
	if _, listed := e.outputs[mapfile.ChangesFile]; !listed {
		return e.tracesOf(p), nil
	}
	var all []result.LookChange
	for _, name := range []string{mapfile.ChangesFile, mapfile.BackFile} {
		text, err := e.text(name)
		if err != nil {
			return nil, err
		}
		rows, err := readLookChanges(text)
		if err != nil {
			return nil, e.damaged(fmt.Sprintf("%s: %v", name, err))
		}
		all = append(all, rows...)
	}
	return all, nil
}

// tracesOf returns such traces for every known stand, in the quarter of the previous batch: one for its
// stream, and one for any unit.
func (e *opened) tracesOf(p *Batch) []result.LookChange {
	var all []result.LookChange
	for k := range p.Known {
		one := result.LookChange{StandID: p.Known[k].ID, Quarter: e.quarter, Scope: result.NoStream, Shared: true}
		switch known := &p.Known[k]; {
		case known.WaterBody != "":
			one.Scope, one.Name = result.WaterBody, known.WaterBody
		case known.StreamID != "":
			one.Scope = result.Unnamed
		}
		all = append(all, one, result.LookChange{StandID: one.StandID, Quarter: e.quarter, Scope: result.InUnit, Shared: true})
	}
	return all
}

// ReadTakenBack reads taken_back.csv as a trend needs it.
func ReadTakenBack(text []byte) ([]trend.TakenBack, error) {
	rows, err := readLookChanges(text)
	return TakenBack(rows), err
}

// grainsOfTrend is the number of grains in the unit of acreage that package trend uses.
const grainsOfTrend = 1e10 / trend.PerUnit

// TakenBack returns what corrections took back, as input of a trend.
func TakenBack(rows []result.LookChange) []trend.TakenBack {
	var out []trend.TakenBack
	for i := range rows {
		c := &rows[i]
		if c.TakenBack.IsZero() {
			continue
		}
		b := trend.TakenBack{
			Taken: c.TakenBack, Quarter: c.Quarter, StandID: c.StandID, Scope: c.Scope, Name: c.Name, UnitID: c.UnitID, Shared: c.Shared,
		}
		for m, grains := range c.Grains() {
			b.Acres[m] = allocate.Round(grains, grainsOfTrend) / grainsOfTrend
		}
		out = append(out, b)
	}
	return out
}

// readLookChanges reads stand_changes.csv or taken_back.csv.
func readLookChanges(text []byte) ([]result.LookChange, error) {
	cells, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	return result.ReadLookChanges(cells)
}
