package intake

import (
	"bytes"
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
		j.spans[column] = span{begin, len(j.text)}
		if len(j.text) > j.limits.RecordBytes {
			j.fail("the properties of a feature are longer than the limit")
		}
	}
}

// crs reads the reference system that files from before RFC 7946 may name.
// The same degrees as RFC 7946 are accepted, by the names that the OGC, GDAL and
// EPSG give them.
func (j *jsonReader) crs() error {
	j.room = j.skip(true, j.room[:0])
	if j.wrong != "" || string(j.room) == "null" {
		return nil
	}
	for _, name := range []string{"CRS84", "EPSG:4326", "EPSG::4326", "EPSG:6.9:4326", "EPSG::4979", "CRS83", "EPSG::4269", "EPSG:4269", "EPSG::4258", "EPSG:4258"} {
		if bytes.Contains(bytes.ToUpper(j.room), []byte(name)) {
			return nil
		}
	}
	return j.unusable("crs", "the file names another reference system than WGS 84 degrees: "+shorten(string(j.room)), "convert it to WGS 84 longitude and latitude (EPSG:4326)")
}

// shorten cuts a text to what a message can hold.
func shorten(s string) string {
	// Our choice: one line of a terminal.
	const most = 80
	runes := []rune(s)
	if len(runes) <= most {
		return s
	}
	return string(runes[:most]) + "..."
}
