// Package geojson reads GeoJSON feature by feature, without building a tree.
package geojson

import (
	"bytes"
	"fmt"

	"driftreach/internal/format"
)

// Format is GeoJSON (RFC 7946): a FeatureCollection, a Feature, a geometry, or any
// number of them one after the other (newline-delimited GeoJSON, RFC 8142 sequences).
type Format struct{}

// Traits implements format.
func (Format) Traits() format.Traits { return format.Traits{Name: "GeoJSON", Text: true} }

// Is implements format.
func (Format) Is(r *format.Reading, _ *format.Document) bool {
	return r.Text != nil && (r.Text.First() == '{' || r.Text.First() == '[')
}

// Read reads feature by feature. In a sequence, a line that is not JSON is lost alone. Inside a
// collection it ends the reading, because the start of the next feature cannot be found.
func (Format) Read(r *format.Reading, _ *format.Document, take func(*format.Feature) error) error {
	j := &reader{Reading: r}
	for texts := 0; ; texts++ {
		b := j.peek()
		start := j.feature.Row
		if r.Text.Anchor = -1; texts > 0 {
			r.Text.Anchor = r.Text.Pos
		}
		switch {
		case b == 0x1e || b == ',' && texts > 0:
			r.Text.Pos++
			continue
		case b == 0 && r.Text.Pos >= r.Text.End:
			return r.Text.Failed()
		case b == '[':
			if err := j.features(take); err != nil {
				return err
			}
		default:
			if err := j.object(take, true); err != nil {
				return err
			}
		}
		if j.wrong == "" {
			continue
		}
		if texts == 0 || r.Text.Failed() != nil {
			return j.failure()
		}
		if j.feature.Row == start && r.Text.Anchor >= 0 { // back to the line where the text began
			r.Text.Pos = r.Text.Anchor
		}
		if r.Text.Anchor = -1; !j.nextLine() {
			return j.failure()
		}
		if err := j.lost(take); err != nil {
			return err
		}
	}
}

// lost passes the feature that could not be read to take.
func (j *reader) lost(take func(*format.Feature) error) error {
	found := j.wrong
	j.wrong = ""
	j.begin()
	j.feature.Row++
	j.feature.Wrong = "the line is not JSON: " + found
	return take(&j.feature)
}

// nextLine goes to the start of the next line of the text.
func (j *reader) nextLine() bool {
	w := j.Reading.Text
	for {
		if k := bytes.IndexByte(w.Buf[w.Pos:w.End], '\n'); k >= 0 {
			w.Pos += k + 1
			return true
		}
		w.Pos = w.End
		if !w.More() {
			return w.Failed() == nil
		}
	}
}

// features reads an array of features.
func (j *reader) features(take func(*format.Feature) error) error {
	j.take('[')
	for first := true; j.next(']', first); first = false {
		if j.peek() != '{' {
			j.skip(false, nil)
			j.begin()
			j.feature.Row++
			j.feature.Wrong = "the feature is no JSON object"
			if err := take(&j.feature); err != nil {
				return err
			}
			continue
		}
		if err := j.object(take, false); err != nil {
			return err
		}
	}
	return nil
}

// object reads one object: at the top level or in a features array.
func (j *reader) object(take func(*format.Feature) error, top bool) error {
	j.begin()
	if !j.take('{') {
		return nil
	}
	kind, collection, found := "", false, false
	for first := true; ; first = false {
		key, ok := j.member(first)
		if !ok {
			break
		}
		switch string(key) {
		case "type":
			j.room = j.scalar(j.room[:0])
			kind = string(j.room)
		case "features":
			if !top || j.peek() != '[' {
				j.skip(false, nil)
				continue
			}
			collection = true
			if err := j.features(take); err != nil || j.wrong != "" {
				return err
			}
		case "geometry":
			found = true
			j.geometry()
		case "properties":
			found = true
			j.properties()
		case "id":
			j.feature.ID = j.scalar(j.feature.ID[:0])
		case "coordinates":
			j.coordinates()
		case "crs":
			if err := j.crs(); err != nil {
				return err
			}
		default:
			j.skip(false, nil)
		}
	}
	switch {
	case j.wrong != "" || collection:
		return nil
	case shapeNamed(kind) != format.NoShape:
		j.shaped(kind)
	case kind != "Feature" && !found:
		if top && j.feature.Row == 0 {
			return j.Unusable(fmt.Sprintf("byte %d", j.Reading.Text.Place()), fmt.Sprintf("a JSON object of type %q is no GeoJSON", kind), "export the layer as GeoJSON")
		}
		j.feature.Wrong = "the object is no GeoJSON feature"
	}
	j.feature.Row++
	j.finish()
	return take(&j.feature)
}

// begin clears the feature but not its row number.
func (j *reader) begin() {
	f := &j.feature
	f.ID = f.ID[:0]
	f.Shape.Reset()
	f.Cells = f.Cells[:0]
	f.Wrong = ""
	j.text = j.text[:0]
	j.spans = j.spans[:0]
}

// finish puts the texts in the order of the columns.
func (j *reader) finish() {
	for _, s := range j.spans {
		c := format.Cell{}
		if s.End > 0 {
			c.Text = bytes.TrimSpace(j.text[s.Begin:s.End])
		}
		j.feature.Cells = append(j.feature.Cells, c)
	}
}
