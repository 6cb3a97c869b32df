package earlier

import (
	"bytes"
	"encoding/csv"
	"errors"

	"driftreach/internal/mapfile"
	"driftreach/internal/result"
)

// ever reads the stages of all stands ever mapped in the chain. A folder from before these were
// recorded has none.
func (e *opened) ever() ([]result.EverRow, error) {
	if _, listed := e.outputs[mapfile.EverFile]; !listed {
		return nil, nil
	}
	text, err := e.text(mapfile.EverFile)
	if err != nil {
		return nil, err
	}
	rows, err := ReadEver(text)
	if err != nil {
		return nil, e.damaged(mapfile.EverFile + ": " + err.Error())
	}
	return rows, nil
}

// ReadEver reads ever_mapped.csv.
func ReadEver(text []byte) ([]result.EverRow, error) {
	cells, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	if len(cells) == 0 {
		return nil, errors.New("it is empty")
	}
	out := make([]result.EverRow, 0, len(cells)-1)
	for _, row := range cells[1:] {
		one, err := result.ReadEver(row)
		if err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, nil
}
