package parquet

import "strings"

// The physical types of a column.
const (
	parquetBoolean = 0
	parquetInt32   = 1
	parquetInt64   = 2
	parquetInt96   = 3
	parquetFloat   = 4
	parquetDouble  = 5
	parquetBytes   = 6
	parquetFixed   = 7
)

// meaning is the logical type of a column.
type meaning struct {
	kind     parquetKind
	scale    int64 // of decimals: digits after the decimal point
	parts    int64 // of times: parts per second
	utc      bool  // of times: in UTC, not local time
	system   string
	annotate bool // the file gives a logical type, not only the physical one
}

type parquetKind uint8

const (
	parquetPlain parquetKind = iota
	parquetText
	parquetDecimal
	parquetDate
	parquetTime
	parquetTimestamp
	parquetUnsigned
	parquetUUID
	parquetHalf
	parquetOpaque
	parquetGeometry
)

// schemaElement reads one node of the schema tree.
func (t *thrift) schemaElement(kind byte) element {
	e := element{physical: -1}
	converted, scale := int64(-1), int64(0)
	t.structure(kind, func(id int64, kind byte) {
		switch id {
		case 1:
			e.physical = t.integer(kind)
		case 2:
			e.length = t.integer(kind)
		case 3:
			e.repetition = t.integer(kind)
		case 4:
			e.name = string(t.text(kind))
		case 5:
			e.children = t.integer(kind)
		case 6:
			converted = t.integer(kind)
		case 7:
			scale = t.integer(kind)
		case 10:
			t.structure(kind, func(id int64, kind byte) { t.parquetLogical(&e.meaning, id, kind) })
		default:
			t.skip(kind)
		}
	})
	if !e.meaning.annotate && converted >= 0 {
		e.meaning = parquetConverted(converted, scale)
	}
	return e
}

// parquetLogical reads one case of the union LogicalType.
func (t *thrift) parquetLogical(m *meaning, id int64, kind byte) {
	kinds := map[int64]parquetKind{1: parquetText, 4: parquetText, 5: parquetDecimal, 6: parquetDate, 7: parquetTime, 8: parquetTimestamp,
		11: parquetOpaque, 12: parquetText, 13: parquetOpaque, 14: parquetUUID, 15: parquetHalf, 16: parquetOpaque, 17: parquetGeometry, 18: parquetGeometry}
	m.kind, m.annotate, m.parts = kinds[id], true, 1000
	t.structure(kind, func(field int64, kind byte) {
		switch {
		case id == 5 && field == 1:
			m.scale = t.integer(kind)
		case (id == 7 || id == 8) && field == 1:
			m.utc = kind == thriftTrue
			t.skip(kind)
		case (id == 7 || id == 8) && field == 2:
			t.structure(kind, func(unit int64, kind byte) {
				m.parts = map[int64]int64{2: 1e6, 3: 1e9}[unit]
				m.parts = max(m.parts, 1000)
				t.skip(kind)
			})
		case id == 10 && field == 2:
			if kind == thriftFalse {
				m.kind = parquetUnsigned
			}
			t.skip(kind)
		case (id == 17 || id == 18) && field == 1:
			m.system = string(t.text(kind))
		default:
			t.skip(kind)
		}
	})
}

// parquetConverted returns the meaning of the older ConvertedType.
func parquetConverted(converted, scale int64) meaning {
	m := meaning{annotate: true, scale: scale, utc: true, parts: 1000}
	switch converted {
	case 0, 4, 19:
		m.kind = parquetText
	case 5:
		m.kind = parquetDecimal
	case 6:
		m.kind = parquetDate
	case 7:
		m.kind = parquetTime
	case 8:
		m.kind, m.parts = parquetTime, 1e6
	case 9:
		m.kind = parquetTimestamp
	case 10:
		m.kind, m.parts = parquetTimestamp, 1e6
	case 11, 12, 13, 14:
		m.kind = parquetUnsigned
	case 20, 21:
		m.kind = parquetOpaque
	}
	return m
}

// leaf is a column with values.
type leaf struct {
	path       []string
	physical   int64
	length     int64
	definition int // definition level of a value that is not null
	repetition int // number of lists around it
	meaning    meaning
}

func (l *leaf) name() string { return strings.Join(l.path, ".") }

// deepestColumn is the deepest nesting of columns that is read. Our choice: three times the depth of
// GeoParquet's multipolygons.
const deepestColumn = 24

// leaves returns the columns with values, in the order of the file. It returns nil if the nodes do not
// form a tree.
func (m *meta) leaves() []leaf {
	if len(m.schema) == 0 || m.schema[0].children < 0 {
		return nil
	}
	var out []leaf
	next := 1
	var grow func(children int64, above leaf) bool
	grow = func(children int64, above leaf) bool {
		for range children {
			if next >= len(m.schema) || len(above.path) >= deepestColumn {
				return false
			}
			e := m.schema[next]
			next++
			leaf := above
			leaf.path = append(append([]string(nil), above.path...), e.name)
			leaf.physical, leaf.length, leaf.meaning = e.physical, e.length, e.meaning
			if e.repetition != 0 {
				leaf.definition++
			}
			if e.repetition == 2 {
				leaf.repetition++
			}
			switch {
			case e.children > 0:
				if !grow(e.children, leaf) {
					return false
				}
			case e.children < 0, e.physical < 0, e.physical > parquetFixed, e.physical == parquetFixed && e.length <= 0:
				return false
			default:
				out = append(out, leaf)
			}
		}
		return true
	}
	if !grow(m.schema[0].children, leaf{}) || next != len(m.schema) {
		return nil
	}
	return out
}
