package mapfile

import (
	"io"
	"slices"
	"strconv"

	"driftreach/internal/result"
)

// flushAt is how much text is collected before it is written. Our choice: large enough that the number
// of writes does not matter.
const flushAt = 1 << 16

// collection writes one GeoJSON FeatureCollection (RFC 7946), one feature a line. It keeps only one
// feature in memory.
type collection struct {
	w      io.Writer
	run    *result.Run
	table  result.Table
	keys   [][]byte // of the properties, as `"name":`
	brief  []bool   // by property: brief features have it too
	short  func(i int) bool
	box    box
	buf    []byte
	err    error // from writing
	shapes unpacker
}

// drawing appends the geometry of row i as a JSON object or null.
type drawing func(c *collection, b []byte, i int) []byte

// naming appends the id of row i as JSON, and then any foreign members of the feature (RFC
// 7946, section 6.1).
type naming func(b []byte, i int) []byte

// writeCollection writes table, as a layer, as a FeatureCollection. The file has its cautions and
// assumptions as foreign members (RFC 7946, section 6.1), so that they stay with it. The first feature
// has every property, with null for unknown ones, so that one feature shows all names. The others leave
// out properties that are null or an empty list; programs that read the file combine the names of all
// features.
func writeCollection(w io.Writer, run *result.Run, table result.Table, id naming, draw drawing) error {
	return newCollection(w, run, table).write(id, draw)
}

func newCollection(w io.Writer, run *result.Run, table result.Table) *collection {
	c := &collection{w: w, run: run, table: result.Layer(table)}
	for _, f := range c.table.Fields {
		c.keys = append(c.keys, append(appendString(nil, f.Name), ':'))
	}
	return c
}

// shorten makes the features for which short is true brief, except the first: they have only the named
// properties.
func (c *collection) shorten(short func(i int) bool, names []string) {
	c.short = short
	for _, f := range c.table.Fields {
		c.brief = append(c.brief, slices.Contains(names, f.Name))
	}
}

func (c *collection) write(id naming, draw drawing) error {
	c.head()
	for i := range c.table.Rows {
		if err := c.feature(i, id, draw); err != nil {
			return err
		}
	}
	c.tail()
	_, err := c.w.Write(c.buf)
	return err
}

func (c *collection) head() {
	b := append(c.buf, `{"type":"FeatureCollection","name":`...)
	b = appendString(b, c.table.Name)
	b = append(b, `,"quarter":`...)
	b = appendString(b, c.run.Quarter.String())
	b = append(b, `,"cautions":`...)
	b = appendStrings(b, result.Cautions(c.run))
	b = append(b, `,"assumed":`...)
	b = appendStrings(b, c.run.Assumed)
	c.buf = append(b, `,"features":[`...)
}

// tail closes the collection. The bounding box comes last because it is not known before.
func (c *collection) tail() {
	c.buf = append(c.buf, "\n]"...)
	if c.box.any {
		c.buf = c.box.append(append(c.buf, `,"bbox":`...))
	}
	c.buf = append(c.buf, "}\n"...)
}

func (c *collection) feature(i int, id naming, draw drawing) error {
	b := c.buf
	if i > 0 {
		b = append(b, ',')
	}
	b = id(append(b, "\n"+`{"type":"Feature","id":`...), i)
	b = draw(c, append(b, `,"geometry":`...), i)
	b = append(b, `,"properties":{`...)
	brief, some := i > 0 && c.short != nil && c.short(i), false
	for k := range c.table.Fields {
		if brief && !c.brief[k] {
			continue
		}
		v := c.table.Cell(c.run, i, k)
		if i > 0 && empty(v) {
			continue
		}
		if some {
			b = append(b, ',')
		}
		b, some = appendValue(append(b, c.keys[k]...), v), true
	}
	c.buf = c.spill(append(b, "}}"...))
	return c.err
}

// empty says whether a value is null or an empty list.
func empty(v result.Value) bool {
	return v.Kind == result.Null || v.Kind == result.List && len(v.List) == 0
}

// spill writes b if there is enough text in it, and returns the rest. So a feature of any size needs
// little memory.
func (c *collection) spill(b []byte) []byte {
	if len(b) < flushAt || c.err != nil {
		return b
	}
	_, c.err = c.w.Write(b)
	return b[:0]
}

// byNumber uses a feature's position in the file, counted from 1, as its id.
func byNumber(b []byte, i int) []byte { return strconv.AppendInt(b, int64(i)+1, 10) }
