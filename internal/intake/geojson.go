package intake

import (
	"bytes"
	"fmt"
)

// geoJSON is GeoJSON (RFC 7946): a FeatureCollection, a Feature, a geometry, or any
// number of them one after the other (newline-delimited GeoJSON, RFC 8142 sequences).
type geoJSON struct{}

// Traits implements format.
func (geoJSON) Traits() traits { return traits{name: "GeoJSON", text: true} }

// Is implements format.
func (geoJSON) Is(r *reading, _ *document) bool {
	return r.text != nil && (r.text.first() == '{' || r.text.first() == '[')
}

// Read reads feature by feature. In a sequence a line that is not JSON costs only
// itself; inside a collection it ends the reading, because nothing tells where the
// next feature begins.
func (geoJSON) Read(r *reading, _ *document, take func(*feature) error) error {
	j := &jsonReader{reading: r}
	for texts := 0; ; texts++ {
		b := j.peek()
		start := j.feature.row
		if r.text.anchor = -1; texts > 0 {
			r.text.anchor = r.text.pos
		}
		switch {
		case b == 0x1e || b == ',' && texts > 0:
			r.text.pos++
			continue
		case b == 0 && r.text.pos >= r.text.end:
			return r.text.failed()
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
		if texts == 0 || r.text.failed() != nil {
			return j.failure()
		}
		if j.feature.row == start && r.text.anchor >= 0 { // back to the line the text began on
			r.text.pos = r.text.anchor
		}
		if r.text.anchor = -1; !j.nextLine() {
			return j.failure()
		}
		if err := j.lost(take); err != nil {
			return err
		}
	}
}

// lost gives take the feature that could not be read.
func (j *jsonReader) lost(take func(*feature) error) error {
	found := j.wrong
	j.wrong = ""
	j.begin()
	j.feature.row++
	j.feature.wrong = "the line is not JSON: " + found
	return take(&j.feature)
}

// nextLine goes to the start of the next line of the text.
func (j *jsonReader) nextLine() bool {
	w := j.reading.text
	for {
		if k := bytes.IndexByte(w.buf[w.pos:w.end], '\n'); k >= 0 {
			w.pos += k + 1
			return true
		}
		w.pos = w.end
		if !w.more() {
			return w.failed() == nil
		}
	}
}

// features reads an array of features.
func (j *jsonReader) features(take func(*feature) error) error {
	j.take('[')
	for first := true; j.next(']', first); first = false {
		if j.peek() != '{' {
			j.skip(false, nil)
			j.begin()
			j.feature.row++
			j.feature.wrong = "the feature is no JSON object"
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

// object reads one object of the top level or of a features array.
func (j *jsonReader) object(take func(*feature) error, top bool) error {
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
			j.feature.id = j.scalar(j.feature.id[:0])
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
	case shapeNamed(kind) != noShape:
		j.shaped(kind)
	case kind != "Feature" && !found:
		if top && j.feature.row == 0 {
			return j.unusable(fmt.Sprintf("byte %d", j.reading.text.place()), fmt.Sprintf("a JSON object of type %q is no GeoJSON", kind), "export the layer as GeoJSON")
		}
		j.feature.wrong = "the object is no GeoJSON feature"
	}
	j.feature.row++
	j.finish()
	return take(&j.feature)
}

// begin clears the feature; its row goes on counting.
func (j *jsonReader) begin() {
	f := &j.feature
	f.id = f.id[:0]
	f.shape.reset()
	f.cells = f.cells[:0]
	f.wrong = ""
	j.text = j.text[:0]
	j.spans = j.spans[:0]
}

// finish lays the texts out by column.
func (j *jsonReader) finish() {
	for _, s := range j.spans {
		c := cell{}
		if s.end > 0 {
			c.text = bytes.TrimSpace(j.text[s.begin:s.end])
		}
		j.feature.cells = append(j.feature.cells, c)
	}
}
