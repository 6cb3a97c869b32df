package parquet

import (
	"encoding/binary"
	"fmt"
	"io"

	"driftreach/internal/format"
)

// meta is what is used of the footer of a Parquet file (Apache Parquet format 2.12; the field numbers
// in the functions below are those of parquet.thrift).
type meta struct {
	rows   int64
	schema []element
	groups []group
	texts  map[string][]byte // key-value metadata
}

// element is one node of the schema tree, which is written with the root first.
type element struct {
	physical   int64 // -1 for a node that has children
	length     int64 // bytes of a value of fixed length
	repetition int64
	name       string
	children   int64
	meaning    meaning
}

// group is a row group.
type group struct {
	rows   int64
	chunks []chunk // by leaf column
}

// chunk is the place of a column's values in one row group.
type chunk struct {
	codec      int64
	data       int64 // offset of the first data page
	dictionary int64 // offset of the dictionary page; 0 for none or not given
	bytes      int64 // total size of its pages
	encrypted  bool
	elsewhere  bool // stored in another file
}

// mostFooter is the largest footer that is read: 32 MiB. Our choice: enough for a hundred columns in
// two thousand row groups.
const mostFooter = 32 << 20

// readFooter reads the footer, which holds the schema and the places of all columns.
func readFooter(r *format.Reading, at io.ReaderAt, size int64) (*meta, error) {
	var end [8]byte
	if size < 12 {
		return nil, broken(r, "footer", "the file is cut off")
	}
	if _, err := at.ReadAt(end[:], size-8); err != nil && err != io.EOF {
		return nil, err
	}
	length := int64(binary.LittleEndian.Uint32(end[:]))
	switch mark := string(end[4:]); {
	case mark == "PARE":
		return nil, r.Unusable("footer", "the file is encrypted", "save it again without encryption")
	case mark != "PAR1", length > size-12:
		return nil, broken(r, "footer", "the file is cut off")
	case length > mostFooter:
		return nil, r.Unusable("footer", fmt.Sprintf("a table of contents of %d bytes is above the limit", length), "save the file again with larger row groups")
	}
	text := make([]byte, length)
	if _, err := at.ReadAt(text, size-8-length); err != nil && err != io.EOF {
		return nil, err
	}
	t := thrift{bytes: text}
	m := t.meta(r.Limits)
	if t.wrong != "" {
		return nil, broken(r, "footer", "the table of contents cannot be read: "+t.wrong)
	}
	return m, nil
}

func broken(r *format.Reading, place, found string) error {
	return r.Unusable(place, found, "copy the file again, or save the layer as GeoPackage")
}

func (t *thrift) meta(limits format.Limits) *meta {
	m := &meta{}
	t.fields(func(id int64, kind byte) {
		switch id {
		case 2:
			t.list(kind, func(kind byte) {
				if m.schema = append(m.schema, t.schemaElement(kind)); len(m.schema) > 10*limits.Columns {
					t.fail("there are more columns than limits.columns allows")
				}
			})
		case 3:
			m.rows = t.integer(kind)
		case 4:
			t.list(kind, func(kind byte) { m.groups = append(m.groups, t.group(kind)) })
		case 5:
			t.list(kind, func(kind byte) { t.key(kind, m) })
		case 8:
			t.fail("it is encrypted")
		default:
			t.skip(kind)
		}
	})
	return m
}

// mostKeys is the most metadata keys that are kept. Our choice: files usually have a handful.
const mostKeys = 1000

// key reads one key and its value. GeoParquet describes itself under the key "geo".
func (t *thrift) key(kind byte, m *meta) {
	var key, value []byte
	t.structure(kind, func(id int64, kind byte) {
		switch id {
		case 1:
			key = t.text(kind)
		case 2:
			value = t.text(kind)
		default:
			t.skip(kind)
		}
	})
	if m.texts == nil {
		m.texts = map[string][]byte{}
	}
	if len(m.texts) < mostKeys {
		m.texts[string(key)] = value
	}
}

func (t *thrift) group(kind byte) group {
	g := group{rows: -1}
	t.structure(kind, func(id int64, kind byte) {
		switch id {
		case 1:
			t.list(kind, func(kind byte) { g.chunks = append(g.chunks, t.chunk(kind)) })
		case 3:
			g.rows = t.integer(kind)
		default:
			t.skip(kind)
		}
	})
	if g.rows < 0 || len(g.chunks) == 0 {
		t.fail("a group of rows has no columns")
	}
	return g
}

func (t *thrift) chunk(kind byte) chunk {
	c := chunk{codec: -1}
	t.structure(kind, func(id int64, kind byte) {
		switch id {
		case 1:
			c.elsewhere = len(t.text(kind)) > 0
		case 3:
			t.structure(kind, func(id int64, kind byte) { t.parquetPlace(&c, id, kind) })
		case 8:
			c.encrypted = true
			t.skip(kind)
		default:
			t.skip(kind)
		}
	})
	// refuse incomplete chunks, so that the length of the footer bounds the memory they take
	if c.codec < 0 && !c.encrypted {
		t.fail("a column does not say where it lies")
	}
	return c
}

func (t *thrift) parquetPlace(c *chunk, id int64, kind byte) {
	switch id {
	case 4:
		c.codec = t.integer(kind)
	case 7:
		c.bytes = t.integer(kind)
	case 9:
		c.data = t.integer(kind)
	case 11:
		c.dictionary = t.integer(kind)
	default:
		t.skip(kind)
	}
}
