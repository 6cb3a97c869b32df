package intake

import (
	"encoding/json"
	"fmt"
)

// scalar reads a string, number, true or false and appends its text; null
// appends nothing, and an array or object its own JSON.
func (j *jsonReader) scalar(into []byte) []byte {
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
func (j *jsonReader) properties() {
	j.spans = j.spans[:0]
	if j.peek() != '{' {
		j.skip(false, nil)
		return
	}
	j.take('{')
	j.schema.last = -1
	for first := true; ; first = false {
		key, ok := j.member(first)
		if !ok {
			return
		}
		column := j.schema.find(key)
		if len(j.schema.names) > j.limits.Columns {
			j.fail(fmt.Sprintf("there are more than %d different properties", j.limits.Columns))
			return
		}
		begin := len(j.text)
		j.text = j.scalar(j.text)
		for len(j.spans) <= column {
			j.spans = append(j.spans, span{})
		}
		j.spans[column] = span{begin: begin, end: len(j.text)}
		if len(j.text) > j.limits.RecordBytes {
			j.fail("the properties of a feature are longer than limits.record_mb allows")
		}
	}
}

// crs reads the reference system that files from before RFC 7946 may name: by
// name, or by the number that still older ones have.
func (j *jsonReader) crs() error {
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
	// what is no name is blank, which no system is
	if json.Unmarshal(j.room, &named) != nil || named.Properties.Name == "" && named.Properties.Code == nil {
		named.Properties.Name = shorten(string(j.room))
	}
	name := named.Properties.Name
	if name == "" {
		name = fmt.Sprintf("EPSG:%v", named.Properties.Code)
	}
	if err := j.refer("crs", name); err != nil {
		return err
	}
	if j.feature.row > 0 && !j.asked && !j.system.IsGeographic() {
		return j.unusable("crs", "the reference system comes after features", "write the file again, with crs before features")
	}
	return nil
}
