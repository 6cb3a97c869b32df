package earlier

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/paulmach/orb"

	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
	"driftreach/internal/stretch"
)

// stretches reads when the streams of the previous batch were surveyed. If that batch did not record it
// and this one lists where to survey next, this is reported.
func (e *opened) stretches(s settings.SurveyNextSettings) (*stretch.Memory, error) {
	if _, listed := e.file(mapfile.NextFile); !listed {
		if s.Written(0) {
			e.told = append(e.told, check.Finding{
				Rule: stretch.RuleMemory(), File: e.shown(folder.ManifestName),
				Message: fmt.Sprintf("the batch before lists no %s; what floated by before this quarter is not known and not counted in where to look next", mapfile.NextFile),
			})
		}
		return nil, nil
	}
	m := &stretch.Memory{Quarter: e.quarter}
	file, err := e.layer(mapfile.NextFile, func(r io.Reader) error {
		return features(r, func(head, geometry, _ []byte) error {
			one, err := rememberedOf(head, geometry)
			m.Stretches = append(m.Stretches, one)
			return err
		})
	})
	if err != nil {
		return nil, err
	}
	e.listed(file, len(m.Stretches))
	return m, nil
}

const (
	banksMark = `,"banks":`
	lineMark  = `{"type":"LineString","coordinates":`
	linesMark = `{"type":"MultiLineString","coordinates":`
)

// rememberedOf reads one stretch.
func rememberedOf(head, geometry []byte) (one stretch.Remembered, err error) {
	at := bytes.Index(head, []byte(banksMark))
	if at < 0 {
		return one, errors.New("the stretch says nothing of its banks")
	}
	var banks [][]any
	if json.Unmarshal(head[at+len(banksMark):], &banks) != nil || len(banks) == 0 || len(banks) > 2 {
		return one, errUnreadBanks
	}
	var cells []stretch.Cell
	for side := range 2 {
		parts, err := bankOf(banks[side%len(banks)])
		if err != nil || len(parts) == 0 || side > 0 && len(parts) != len(cells) {
			return one, errUnreadBanks
		}
		if side == 0 {
			cells = make([]stretch.Cell, len(parts))
		}
		for i, part := range parts {
			cells[i].Banks[side] = part
		}
	}
	one.Cells = stretch.PackCells(cells)
	one.Path, err = lineOf(geometry)
	return one, err
}

var errUnreadBanks = errors.New("the banks of the stretch cannot be read")

// bankOf reads the parts of one bank: a quarter, then a figure for each part that was last surveyed in
// it, and so on. In older folders each part has brackets of its own.
func bankOf(items []any) (parts []stretch.Bank, err error) {
	var last stretch.Look
	told := false
	for _, item := range items {
		switch item := item.(type) {
		case []any:
			inner, err := bankOf(item)
			if err != nil {
				return nil, err
			}
			parts = append(parts, inner...)
		case string:
			if last, err = stretch.ParseLook(item); err != nil {
				return nil, err
			}
			told = true
		case float64:
			if !told || !(item >= 0) || math.IsInf(item, 0) {
				return nil, errUnreadBanks
			}
			parts = append(parts, stretch.Bank{Last: last, Exposure: drift.Amount(item)})
		default:
			return nil, errUnreadBanks
		}
	}
	return parts, nil
}

// lineOf reads a LineString, or a MultiLineString whose parts are one line cut at the antimeridian;
// null gives none.
func lineOf(geometry []byte) (orb.LineString, error) {
	var parts [][]orb.Point
	var c *coordinates
	if rest, ok := bytes.CutPrefix(geometry, []byte(lineMark)); ok {
		c = &coordinates{text: rest}
		parts = [][]orb.Point{bracket(c, c.position)}
	} else if rest, ok := bytes.CutPrefix(geometry, []byte(linesMark)); ok {
		c = &coordinates{text: rest}
		parts = bracket(c, func() []orb.Point { return bracket(c, c.position) })
	} else if string(geometry) == nothing {
		return nil, nil
	}
	if c == nil || !c.done() {
		return nil, errors.New("the line cannot be read")
	}
	var line orb.LineString
	for _, part := range parts {
		line = append(line, part...)
	}
	return line, nil
}
