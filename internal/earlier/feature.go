package earlier

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"

	"github.com/paulmach/orb"

	"driftreach/internal/field"
)

// features passes each feature of a layer of ours to use. Such a layer has one feature a line (see
// mapfile). head is the text before the geometry. The slices are valid until the next call.
func features(r io.Reader, use func(head, geometry, properties []byte) error) error {
	in := bufio.NewReaderSize(r, 1<<20)
	var long []byte
	for number := 1; ; number++ {
		line, err := in.ReadSlice('\n')
		if errors.Is(err, bufio.ErrBufferFull) {
			long = append(long[:0], line...)
			for errors.Is(err, bufio.ErrBufferFull) {
				line, err = in.ReadSlice('\n')
				long = append(long, line...)
			}
			line = long
		}
		if err != nil && !errors.Is(err, io.EOF) {
			return err
		}
		if bytes.HasPrefix(line, []byte(featureStart)) {
			if problem := feature(bytes.TrimSuffix(bytes.TrimRight(line, "\n"), []byte(",")), use); problem != nil {
				return fmt.Errorf("line %d: %w", number, problem)
			}
		}
		if err != nil {
			return nil
		}
	}
}

// The marks in a line of a layer. Inside a text every quotation mark has a backslash before it, so a
// mark never occurs inside a text.
const (
	featureStart      = `{"type":"Feature",`
	geometryMark      = `,"geometry":`
	propertyMark      = `,"properties":`
	exactMark         = `,"exact_acres":`
	standMark         = `"` + field.StandID + `":"`
	absentMark        = `"` + field.OccurrenceStatus + `":"notDetected"`
	polygonMark       = `{"type":"Polygon","coordinates":`
	polygonsMark      = `{"type":"MultiPolygon","coordinates":`
	positionMark      = `{"type":"Point","coordinates":`
	nothing           = `null`
	unreadableFeature = "the feature cannot be read"
)

func feature(line []byte, use func(head, geometry, properties []byte) error) error {
	from := bytes.Index(line, []byte(geometryMark))
	to := bytes.Index(line, []byte(propertyMark))
	if from < 0 || to < from || line[len(line)-1] != '}' {
		return errors.New(unreadableFeature)
	}
	return use(line[:from], line[from+len(geometryMark):to], line[to+len(propertyMark):len(line)-1])
}

// polygonsOf reads a Polygon or MultiPolygon; null gives none.
func polygonsOf(geometry []byte) (orb.MultiPolygon, error) {
	var mp orb.MultiPolygon
	var c *coordinates
	if rest, ok := bytes.CutPrefix(geometry, []byte(polygonMark)); ok {
		c = &coordinates{text: rest}
		mp = orb.MultiPolygon{c.polygon()}
	} else if rest, ok := bytes.CutPrefix(geometry, []byte(polygonsMark)); ok {
		c = &coordinates{text: rest}
		mp = bracket(c, c.polygon)
	} else if string(geometry) == nothing {
		return nil, nil
	}
	if c == nil || !c.done() {
		return nil, errors.New("the area cannot be read")
	}
	for _, polygon := range mp {
		for _, ring := range polygon {
			if len(ring) < 4 || ring[0] != ring[len(ring)-1] {
				return nil, errors.New("a ring of the area is not closed")
			}
		}
		if len(polygon) == 0 {
			return nil, errors.New("an area has no ring")
		}
	}
	return mp, nil
}

// positionOf reads a Point.
func positionOf(geometry []byte) (orb.Point, error) {
	rest, ok := bytes.CutPrefix(geometry, []byte(positionMark))
	c := &coordinates{text: rest}
	p := c.position()
	if !ok || !c.done() {
		return p, errors.New("the position cannot be read")
	}
	return p, nil
}

// coordinates reads the brackets and numbers of a geometry.
type coordinates struct {
	text  []byte
	at    int
	wrong bool
}

// take skips a byte, which must be the next one.
func (c *coordinates) take(b byte) bool {
	if c.at < len(c.text) && c.text[c.at] == b {
		c.at++
		return true
	}
	return false
}

func (c *coordinates) must(b byte) {
	if !c.take(b) {
		c.wrong = true
	}
}

// done says whether the geometry was read to its end without an error.
func (c *coordinates) done() bool {
	c.must('}')
	return !c.wrong && c.at == len(c.text)
}

// bracket reads a list of items in brackets.
func bracket[T any](c *coordinates, item func() T) []T {
	var out []T
	c.must('[')
	for !c.wrong {
		out = append(out, item())
		if !c.take(',') {
			break
		}
	}
	c.must(']')
	return out
}

func (c *coordinates) polygon() orb.Polygon { return bracket(c, c.ring) }

func (c *coordinates) ring() orb.Ring { return bracket(c, c.position) }

func (c *coordinates) position() orb.Point {
	c.must('[')
	x := c.number()
	c.must(',')
	y := c.number()
	c.must(']')
	if !(x >= -180 && x <= 180 && y >= -90 && y <= 90) {
		c.wrong = true
	}
	return orb.Point{x, y}
}

func (c *coordinates) number() float64 {
	first := c.at
	for c.at < len(c.text) && (c.text[c.at] == '-' || c.text[c.at] == '.' || c.text[c.at] >= '0' && c.text[c.at] <= '9') {
		c.at++
	}
	v, err := strconv.ParseFloat(string(c.text[first:c.at]), 64)
	if err != nil {
		c.wrong = true
	}
	return v
}
