package earlier

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"

	"driftreach/internal/disk"
	"driftreach/internal/field"
	"driftreach/internal/mapfile"
	"driftreach/internal/survey"
)

// Became is what became of a stand in a batch: a row of its lineage.
type Became struct {
	StandID  string // the stand now, or one that was not detected
	Previous string // the stand it continues; blank for none
	Change   string
	Visited  bool // at least part of it was surveyed
}

// ReadBecame reads what became of each stand since the batch before; nothing for the first batch of a
// chain. The error is an *Error, as that of Read.
func ReadBecame(ctx context.Context, d disk.Disk, from Folder, quarter survey.Quarter) ([]Became, error) {
	e, err := open(ctx, d, from, quarter)
	if err != nil {
		return nil, err
	}
	if _, listed := e.outputs[mapfile.LineageFile]; !listed {
		return nil, nil
	}
	text, err := e.text(mapfile.LineageFile)
	if err != nil {
		return nil, err
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil || len(rows) == 0 {
		return nil, e.damaged(fmt.Sprintf("%s cannot be read", mapfile.LineageFile))
	}
	at := columnsOf(rows[0])
	out := make([]Became, 0, len(rows)-1)
	for _, row := range rows[1:] {
		cell := func(name string) string {
			if k, there := at[name]; there && k < len(row) {
				return row[k]
			}
			return ""
		}
		out = append(out, Became{cell(field.StandID), cell(field.PreviousID), cell(field.Change), cell(field.Visited) == "true"})
	}
	return out, nil
}
