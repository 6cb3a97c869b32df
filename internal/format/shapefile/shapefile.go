// Package shapefile reads Shapefiles with their sidecar files: table, index, reference system and
// encoding.
package shapefile

import (
	"github.com/paulmach/orb"

	"driftreach/internal/format"
)

// Format is a Shapefile with its sidecar files: table, index, reference system and encoding.
type Format struct{}

// Traits implements format.
func (Format) Traits() format.Traits {
	return format.Traits{Name: "Shapefile", LongestName: mostLetters}
}

// mostLetters is the longest column name in a dBASE table.
const mostLetters = 10

// Is implements format.
func (Format) Is(_ *format.Reading, d *format.Document) bool {
	return d.Begins("\x00\x00\x27\x0a")
}

// Read reads the shapes, and with each shape its record in the table.
func (Format) Read(r *format.Reading, d *format.Document, take func(*format.Feature) error) error {
	s := shapes{Reading: r, in: d.Head}
	box, err := s.header()
	if err != nil {
		return err
	}
	if err := projection(r, d, box); err != nil {
		return err
	}
	table, err := openTable(r, d)
	if err != nil {
		return err
	}
	defer table.close()
	if err := s.openIndex(d); err != nil {
		return err
	}
	defer s.index.close()
	l := format.Layout{}
	for record := 1; ; record++ {
		l.Begin()
		ok, err := s.next(record, &l.Feature.Shape, table.file != nil && record > table.records)
		if err != nil {
			return err
		}
		if !ok {
			s.index.finish(r)
			return table.finish(record - 1)
		}
		deleted, err := table.next(record, &l)
		switch {
		case err != nil:
			return err
		case deleted:
			continue
		}
		if err := take(l.Finish()); err != nil {
			return err
		}
	}
}

// projection reads the .prj.
func projection(r *format.Reading, d *format.Document, box orb.Bound) error {
	text, err := sidecar(r, d, ".prj")
	if err != nil {
		return err
	}
	if len(text) == 0 {
		return r.AssumeSystem("", box)
	}
	return r.Refer(".prj", string(text))
}
