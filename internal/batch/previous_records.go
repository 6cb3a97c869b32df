package batch

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"

	"driftreach/geo"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// records reads the records of the stands that nobody visited: those that may be
// carried. Others are only looked at for their stand.
func (e *earlier) records(p *Previous) error {
	wanted := map[string]int32{}
	for k := range p.Known {
		if !p.Known[k].Absent && !p.Visits[k].Looked {
			wanted[p.Known[k].ID] = int32(k)
		}
	}
	reading := recordReader{ours: map[string]bool{}, columns: map[string]int{}}
	for _, f := range result.PointTable(&result.Run{}).Fields {
		reading.ours[f.Name] = true
	}
	seen := 0
	var standOf []int32
	err := e.check(pointsFile, func(r io.Reader) error {
		return features(r, func(_, geometry, properties []byte) error {
			seen++
			k, ok := wanted[standIn(properties)]
			if !ok {
				return nil
			}
			record, err := reading.record(geometry, properties)
			if err == nil {
				p.Records, standOf = append(p.Records, record), append(standOf, k)
			}
			return err
		})
	})
	if err != nil {
		return err
	}
	e.listed(pointsFile, seen)
	p.ExtraColumns = reading.names
	if !slices.IsSortedFunc(p.Records, func(a, b survey.Record) int { return strings.Compare(a.ID, b.ID) }) {
		return e.damaged(pointsFile + ": the records are not in the order of their ids")
	}
	for i, k := range standOf {
		p.Known[k].Members = append(p.Known[k].Members, int32(i))
	}
	for id, k := range maps.All(wanted) {
		if len(p.Known[k].Members) == 0 {
			return e.damaged(fmt.Sprintf("%s has no record of stand %s", pointsFile, id))
		}
	}
	return nil
}

// standIn returns the stand that a record's properties name, blank for none.
func standIn(properties []byte) string {
	i := bytes.Index(properties, []byte(standMark))
	if i < 0 {
		return ""
	}
	id := properties[i+len(standMark):]
	return string(id[:max(0, bytes.IndexByte(id, '"'))])
}

// recordReader reads records as points.geojson holds them.
type recordReader struct {
	ours    map[string]bool // names of fields that are not carried columns
	names   []string        // of carried columns
	columns map[string]int
}

// record reads one record.
func (rr *recordReader) record(geometry, properties []byte) (survey.Record, error) {
	r := survey.Record{Notes: &survey.Notes{}, Detected: true, Cover: math.NaN(), StemHeight: math.NaN()}
	var err error
	if r.Position, err = positionOf(geometry); err != nil {
		return r, err
	}
	d := json.NewDecoder(bytes.NewReader(properties))
	if token, err := d.Token(); err != nil || token != json.Delim('{') {
		return r, errors.New(unreadableFeature)
	}
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return r, errors.New(unreadableFeature)
		}
		var value any
		if err := d.Decode(&value); err != nil {
			return r, errors.New(unreadableFeature)
		}
		if err := rr.take(&r, name.(string), value); err != nil {
			return r, fmt.Errorf("record %s: %w", r.ID, err)
		}
	}
	if r.ID == "" {
		return r, errors.New("a record has no id")
	}
	return r, nil
}

// take puts one property where it belongs.
func (rr *recordReader) take(r *survey.Record, name string, value any) (err error) {
	text, _ := value.(string)
	number, isNumber := value.(float64)
	switch {
	case value == nil:
	case name == "occurrenceID":
		r.ID = text
	case name == "eventDate":
		var begin, end time.Time
		begin, end, err = survey.ParseDate(text)
		r.Begin, r.End = survey.DayOf(begin), survey.DayOf(end)
	case name == "coordinateUncertaintyInMeters" && isNumber:
		r.Uncertainty = geo.Meters(number)
	case name == "management_status":
		known := false
		if r.Status, known = survey.ParseStatus(text); !known {
			err = fmt.Errorf("no status is %q", text)
		}
	case name == "patch_area_m2" && isNumber:
		r.PatchArea = geo.SquareMeters(number)
	case name == "patch_outline":
		r.Outline, err = outlineOf(text)
	case name == "canopy_cover_percent" && isNumber:
		r.Cover = number
	case name == "stem_height_m" && isNumber:
		r.StemHeight = number
	case name == "recordedBy":
		r.Notes.RecordedBy = text
	case name == "parcel":
		r.Notes.Parcel = text
	case name == "occurrenceRemarks":
		r.Notes.Remarks = text
	case !rr.ours[name]:
		rr.carry(r.Notes, name, text)
	}
	return err
}

// carry keeps a carried column under the name it had in the input.
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

// outlineOf reads a drawn patch.
func outlineOf(text string) (orb.MultiPolygon, error) {
	areas, err := wkt.UnmarshalMultiPolygon(text)
	if err != nil || len(areas) == 0 {
		return nil, errors.New("its patch_outline cannot be read")
	}
	return areas, nil
}
