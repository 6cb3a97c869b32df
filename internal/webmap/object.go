package webmap

import (
	"bytes"
	"cmp"
	"encoding/json"
	"io"
)

// object writes a JSON object field by field, and its lists item by item, so that they are never all in
// memory. It keeps the first error.
type object struct {
	w    io.Writer
	text bytes.Buffer // text still to be written
	json *json.Encoder
	any  bool // a field has been written
	err  error
}

// newObject begins an object.
func newObject(w io.Writer) *object {
	o := &object{w: w}
	// the encoder escapes <, > and &, so that no text can end the script element
	o.json = json.NewEncoder(&o.text)
	o.text.WriteByte('{')
	return o
}

// field adds a field.
func (o *object) field(name string, value any) {
	o.name(name)
	o.value(value)
	o.flush()
}

// list adds a field with the list of values that all adds.
func list[T any](o *object, name string, all func(add func(T))) {
	o.name(name)
	o.text.WriteByte('[')
	some := false
	all(func(item T) {
		if some {
			o.text.WriteByte(',')
		}
		some = true
		o.value(item)
		o.flush()
	})
	o.text.WriteByte(']')
	o.flush()
}

// end writes the rest and returns the first error.
func (o *object) end() error {
	o.text.WriteByte('}')
	o.flush()
	return o.err
}

func (o *object) name(name string) {
	if o.any {
		o.text.WriteByte(',')
	}
	o.any = true
	o.value(name)
	o.text.WriteByte(':')
}

func (o *object) value(value any) {
	if err := o.json.Encode(value); err != nil {
		o.err = cmp.Or(o.err, err)
		return
	}
	o.text.Truncate(o.text.Len() - 1) // the line end that the encoder adds
}

func (o *object) flush() {
	if o.err == nil {
		_, o.err = o.w.Write(o.text.Bytes())
	}
	o.text.Reset()
}
