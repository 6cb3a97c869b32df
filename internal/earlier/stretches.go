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
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
	"driftreach/internal/stretch"
)

// stretches reads when the streams of the batch before were looked at. One that did not
// keep that is told of, where this one says where to look next.
func (e *opened) stretches(s settings.SurveyNextSettings) (*stretch.Memory, error) {
	if _, listed := e.outputs[mapfile.NextFile]; !listed {
		if s.Written(0) {
			e.told = append(e.told, check.Finding{
				Rule: stretch.RuleMemory(), File: e.shown(folder.ManifestName),
				Message: fmt.Sprintf("the batch before lists no %s; what floated by before this quarter is not known and not counted in where to look next", mapfile.NextFile),
			})
		}
		return nil, nil
	}
	m := &stretch.Memory{Quarter: e.quarter}
	err := e.check(mapfile.NextFile, func(r io.Reader) error {
		return features(r, func(head, geometry, _ []byte) error {
			one, err := rememberedOf(head, geometry)
			m.Stretches = append(m.Stretches, one)
			return err
		})
	})
	if err != nil {
		return nil, err
	}
	e.listed(mapfile.NextFile, len(m.Stretches))
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
	var banks [2][][2]any
	if err := json.Unmarshal(head[at+len(banksMark):], &banks); err != nil || len(banks[0]) == 0 || len(banks[0]) != len(banks[1]) {
		return one, errors.New("the banks of the stretch cannot be read")
	}
	one.Cells = make([]stretch.Cell, len(banks[0]))
	for side, cells := range banks {
		for i, cell := range cells {
			word, isWord := cell[0].(string)
			exposure, isNumber := cell[1].(float64)
			last, err := stretch.ParseLook(word)
			if !isWord || !isNumber || err != nil || !(exposure >= 0) || math.IsInf(exposure, 0) {
				return one, errors.New("the banks of the stretch cannot be read")
			}
			one.Cells[i].Banks[side] = stretch.Bank{Last: last, Exposure: exposure}
		}
	}
	one.Path, err = lineOf(geometry)
	return one, err
}

// lineOf reads a LineString, or the parts of a MultiLineString that a line was cut into at
// the antimeridian as one; none for null.
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
