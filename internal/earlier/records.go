package earlier

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"
	"golang.org/x/sync/errgroup"

	"driftreach/geo"
	"driftreach/internal/field"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// records reads the records of the stands on the map, with up to the given number of workers, in file
// order.
func (e *opened) records(p *Batch, workers int) error {
	wanted := map[string]int32{}
	for k := range p.Known {
		if !p.Known[k].Absent {
			wanted[p.Known[k].ID] = int32(k)
		}
	}
	reading := recordReader{ours: map[string]bool{}, columns: map[string]int{}, quarter: e.quarter}
	for _, f := range result.PointTable(&result.Run{}).Fields {
		reading.ours[f.Name] = true
	}
	seen := 0
	var parts [][]readRecord
	var tasks errgroup.Group
	tasks.SetLimit(max(1, workers))
	var pending [][2][]byte
	hand := func() {
		lines, part := pending, make([]readRecord, len(pending))
		parts, pending = append(parts, part), nil
		tasks.Go(func() (err error) {
			for i, line := range lines {
				if part[i], err = reading.record(line[0], line[1]); err != nil {
					return err
				}
			}
			return nil
		})
	}
	var standOf []int32
	name, err := e.layer(mapfile.PointsFile, func(r io.Reader) error {
		err := features(r, func(_, geometry, properties []byte) error {
			seen++
			k, ok := wanted[standIn(properties)]
			if !ok {
				return nil
			}
			standOf = append(standOf, k)
			if pending = append(pending, [2][]byte{bytes.Clone(geometry), bytes.Clone(properties)}); len(pending) == recordsApiece {
				hand()
			}
			return nil
		})
		hand()
		if wrong := tasks.Wait(); wrong != nil {
			return wrong
		}
		return err
	})
	if err != nil {
		return err
	}
	e.listed(name, seen)
	for i, read := range slices.Concat(parts...) {
		for _, extra := range read.extras {
			reading.carry(&read.notes, extra[0], extra[1])
		}
		read.record.Notes = read.notes.Pack()
		k := standOf[i]
		p.Records, p.From = append(p.Records, read.record), append(p.From, read.from)
		p.Known[k].Members = append(p.Known[k].Members, int32(i))
	}
	p.ExtraColumns = reading.names
	if !slices.IsSortedFunc(p.Records, func(a, b survey.Record) int { return strings.Compare(a.ID, b.ID) }) {
		return e.damaged(name + ": the records are not in the order of their ids")
	}
	for k := range p.Known {
		if !p.Known[k].Absent && len(p.Known[k].Members) == 0 {
			return e.damaged(fmt.Sprintf("%s has no record of stand %s", name, p.Known[k].ID))
		}
	}
	return nil
}

// recordsApiece is the number of records read in one task. Our choice: some milliseconds of work.
const recordsApiece = 1024

// readRecord is a record as read, with its carried columns apart.
type readRecord struct {
	record survey.Record
	notes  survey.Notes // of the record
	from   survey.Quarter
	extras [][2]string
}

// standIn returns the stand that a record's properties name; blank for none.
func standIn(properties []byte) string {
	i := bytes.Index(properties, []byte(standMark))
	if i < 0 {
		return ""
	}
	id := properties[i+len(standMark):]
	return string(id[:max(0, bytes.IndexByte(id, '"'))])
}

// recordReader reads records in the form of points.geojson.
type recordReader struct {
	ours    map[string]bool // names of fields that are not carried columns
	names   []string        // of carried columns
	columns map[string]int
	quarter survey.Quarter // of the batch
}

// record reads one record.
func (rr *recordReader) record(geometry, properties []byte) (readRecord, error) {
	r := readRecord{record: survey.Record{Detected: true, Cover: math.NaN(), StemHeight: geo.Meters(math.NaN())}, from: rr.quarter}
	var err error
	if r.record.Position, err = positionOf(geometry); err != nil {
		return r, err
	}
	if err := eachProperty(properties, func(name, value []byte) error { return rr.take(&r, name, value) }); err != nil {
		return r, fmt.Errorf("record %s: %w", r.record.ID, err)
	}
	if r.record.ID == "" {
		return r, errors.New("a record has no id")
	}
	if wrong := implausible(&r.record); wrong != "" {
		return r, fmt.Errorf("record %s: %s", r.record.ID, wrong)
	}
	return r, nil
}

// mostPatch is the largest patch that any setting allows, in square metres.
const mostPatch = 1e9

// implausible says which measure of a record is outside what a batch accepts; blank for none. A measure
// that was not taken is 0 or NaN.
func implausible(r *survey.Record) string {
	for _, m := range []struct {
		name       string
		value, max float64
	}{
		{field.PatchAreaM2, float64(r.PatchArea), mostPatch}, {field.CoordinateUncertaintyInMeters, float64(r.Uncertainty), math.MaxFloat32},
		{field.CanopyCoverPercent, r.Cover, 100}, {field.StemHeightM, float64(r.StemHeight), math.MaxFloat32},
	} {
		if m.value < 0 || m.value > m.max {
			return fmt.Sprintf("%s is %v, and no batch takes one", m.name, m.value)
		}
	}
	return ""
}

// take sets the field or carried column for one property.
func (rr *recordReader) take(read *readRecord, name, value []byte) (err error) {
	r := &read.record
	text, err := textOf(value)
	if err != nil || string(value) == nothing {
		return err
	}
	number, noNumber := strconv.ParseFloat(string(value), 64)
	isNumber := noNumber == nil
	switch {
	case string(name) == field.OccurrenceID:
		r.ID = text
	case string(name) == field.CarriedFrom:
		read.from, err = survey.ParseQuarter(text)
	case string(name) == field.EventDate:
		var begin, end time.Time
		begin, end, err = survey.ParseDate(text)
		r.Begin, r.End = survey.DayOf(begin), survey.DayOf(end)
	case string(name) == field.CoordinateUncertaintyInMeters && isNumber:
		r.Uncertainty = geo.Meters(number)
	case string(name) == field.ManagementStatus:
		known := false
		if r.Status, known = survey.ParseStatus(text); !known {
			err = fmt.Errorf("no status is %q", text)
		}
	case string(name) == field.PatchAreaM2 && isNumber:
		r.PatchArea = geo.SquareMeters(number)
	case string(name) == field.PatchOutline:
		r.Outline, err = outlineOf(text)
	case string(name) == field.CanopyCoverPercent && isNumber:
		r.Cover = number
	case string(name) == field.StemHeightM && isNumber:
		r.StemHeight = geo.Meters(number)
	case string(name) == field.RecordedBy:
		read.notes.RecordedBy = text
	case string(name) == field.Parcel:
		read.notes.Parcel = text
	case string(name) == field.OccurrenceRemarks:
		read.notes.Remarks = text
	case !rr.ours[string(name)]:
		read.extras = append(read.extras, [2]string{string(name), text})
	}
	return err
}

// carry keeps a carried column under its name in the input.
func (rr *recordReader) carry(notes *survey.Notes, name, text string) {
	for {
		inner, marked := strings.CutPrefix(name, "carried_")
		if !marked || inner != "" && !rr.ours[inner] && !strings.HasPrefix(inner, "carried_") {
			break
		}
		name = inner
	}
	k, known := rr.columns[name]
	if !known {
		k = len(rr.names)
		rr.columns[name] = k
		rr.names = append(rr.names, name)
	}
	for len(notes.Extra) <= k {
		notes.Extra = append(notes.Extra, "")
	}
	notes.Extra[k] = text
}

// outlineOf reads the drawn outline of a patch.
func outlineOf(text string) (orb.MultiPolygon, error) {
	areas, err := wkt.UnmarshalMultiPolygon(text)
	if err != nil || len(areas) == 0 {
		return nil, errors.New("its patch_outline cannot be read")
	}
	return areas, nil
}
