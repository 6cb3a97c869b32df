package geojson

import (
	"encoding/json"
	"fmt"

	"driftreach/internal/format"
)

// scalar reads a string, number, true or false and appends its text; null
// appends nothing, and an array or object its own JSON.
func (j *reader) scalar(into []byte) []byte {
	switch j.peek() {
	case '"':
		return j.string(into)
	case '{', '[':
		return j.skip(true, into)
	}
	begin := len(into)
	into = j.skip(true, into)
	if len(into) == begin {
		j.fail("a value is missing")
	}
	if string(into[begin:]) == "null" {
		into = into[:begin]
	}
	return into
}

// properties reads the feature's properties into columns.
func (j *reader) properties() {
	j.spans = j.spans[:0]
	if j.peek() != '{' {
		j.skip(false, nil)
		return
	}
	j.take('{')
	j.Schema.Last = -1
	for first := true; ; first = false {
		key, ok := j.member(first)
		if !ok {
			return
		}
		column := j.Schema.Find(key)
		if len(j.Schema.Names) > j.Limits.Columns {
			j.fail(fmt.Sprintf("there are more than %d different properties", j.Limits.Columns))
			return
		}
		begin := len(j.text)
		j.text = j.scalar(j.text)
		for len(j.spans) <= column {
			j.spans = append(j.spans, format.Span{})
		}
		j.spans[column] = format.Span{Begin: begin, End: len(j.text)}
		if len(j.text) > j.Limits.RecordBytes {
			j.fail("the properties of a feature are longer than limits.record_mb allows")
		}
	}
}

// crs reads the reference system that files from before RFC 7946 may give, by name or, in still older
// files, by number.
func (j *reader) crs() error {
	j.room = j.skip(true, j.room[:0])
	if j.wrong != "" || string(j.room) == "null" {
		return nil
	}
	var named struct {
		Properties struct {
			Name string `json:"name"`
			Code any    `json:"code"`
		} `json:"properties"`
	}
	// anything but a name becomes blank, which is no known system
	if json.Unmarshal(j.room, &named) != nil || named.Properties.Name == "" && named.Properties.Code == nil {
		named.Properties.Name = format.Shorten(string(j.room))
	}
	name := named.Properties.Name
	if name == "" {
		name = fmt.Sprintf("EPSG:%v", named.Properties.Code)
	}
	if err := j.Refer("crs", name); err != nil {
		return err
	}
	if j.feature.Row > 0 && !j.Asked && !j.System.IsGeographic() {
		return j.Unusable("crs", "the reference system comes after features", "write the file again, with crs before features")
	}
	return nil
}
