package parquet_test

import (
	"encoding/binary"
	"math"
	"testing"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

// A small writer of Parquet files for tests, by the format's description (parquet.thrift) and Thrift's
// compact protocol. It writes what it is told to, sound or not.

// The numbers of those descriptions: types of Thrift, types of columns, encodings, pages and codecs.
const (
	thriftTrue, thriftFalse, thriftLong, thriftDouble, thriftBinary, thriftList, thriftStruct = 1, 2, 6, 7, 8, 9, 12

	parquetBoolean, parquetInt32, parquetInt64, parquetInt96, parquetFloat, parquetDouble, parquetBytes, parquetFixed = 0, 1, 2, 3, 4, 5, 6, 7

	encodingPlain, encodingPlainDictionary, encodingRuns, encodingDelta = 0, 2, 3, 5

	encodingDeltaLength, encodingDeltaBytes, encodingDictionary, encodingSplit = 6, 7, 8, 9

	pageData, pageIndex, pageDictionary, pageData2 = 0, 1, 2, 3

	codecNone, codecSnappy, codecGzip, codecZstd = 0, 1, 2, 6
)

// field is a field of a structure with its number.
type field struct {
	id    int
	value any
}

// fields is a structure.
type fields []field

// compact returns the type of a value and its bytes: numbers, texts, truths, structures and lists.
func compact(value any) (kind byte, b []byte) {
	switch v := value.(type) {
	case int:
		return thriftLong, binary.AppendVarint(nil, int64(v))
	case string:
		return thriftBinary, append(binary.AppendUvarint(nil, uint64(len(v))), v...)
	case bool:
		return map[bool]byte{true: thriftTrue, false: thriftFalse}[v], nil
	case float64:
		return thriftDouble, binary.LittleEndian.AppendUint64(nil, math.Float64bits(v))
	case fields:
		last := 0
		for _, f := range v {
			kind, value := compact(f.value)
			if step := f.id - last; step > 0 && step < 16 {
				b = append(b, byte(step)<<4|kind)
			} else {
				b = binary.AppendVarint(append(b, kind), int64(f.id))
			}
			last = f.id
			b = append(b, value...)
		}
		return thriftStruct, append(b, 0)
	case []any:
		kind := byte(thriftStruct)
		var all []byte
		for _, e := range v {
			var one []byte
			if kind, one = compact(e); kind == thriftTrue || kind == thriftFalse { // a truth in a list has a byte
				one, kind = []byte{kind}, thriftTrue
			}
			all = append(all, one...)
		}
		if len(v) < 15 {
			b = append(b, byte(len(v))<<4|kind)
		} else {
			b = binary.AppendUvarint(append(b, 0xf0|kind), uint64(len(v)))
		}
		return thriftList, append(b, all...)
	}
	panic("a value of no kind")
}

// page is a page with its header: the size before compression, and the fields of the header that
// belong to its type.
func page(kind, size int, body []byte, of field) []byte {
	_, head := compact(fields{{1, kind}, {2, size}, {3, len(body)}, of})
	return append(head, body...)
}

// plain is a data page of the first version, neither compressed nor with levels.
func plain(count int, encoding int, body []byte) []byte {
	return page(pageData, len(body), body, field{5, fields{{1, count}, {2, encoding}, {3, encodingRuns}, {4, encodingRuns}}})
}

// dictionary is a dictionary page.
func dictionary(count int, body []byte) []byte {
	return page(pageDictionary, len(body), body, field{7, fields{{1, count}, {2, encodingPlain}}})
}

// table is a file of one column: its element in the schema, its pages, and the place fields of its
// chunk that differ from the usual ones.
func table(rows int, element fields, pages []byte, place ...field) []byte {
	return several(rows, []fields{{{4, "root"}, {5, 1}}, element}, [][]byte{pages}, place...)
}

// several is a file of several columns.
func several(rows int, schema []fields, columns [][]byte, place ...field) []byte {
	file := []byte("PAR1")
	var chunks, elements []any
	for _, pages := range columns {
		at := fields{{4, codecNone}, {7, len(pages)}, {9, len(file)}}
		for _, f := range place {
			for i := range at {
				if at[i].id == f.id {
					at[i] = f
				}
			}
			if f.id == 11 {
				at = append(at, field{11, len(file)}, field{9, len(file) + f.value.(int)})
			}
		}
		chunks = append(chunks, fields{{3, at}})
		file = append(file, pages...)
	}
	for _, e := range schema {
		elements = append(elements, e)
	}
	return closed(file, fields{{2, elements}, {3, rows}, {4, []any{fields{{1, chunks}, {3, rows}}}}})
}

// closed is a file with its footer.
func closed(file []byte, footer fields) []byte {
	_, b := compact(footer)
	file = append(file, b...)
	return append(binary.LittleEndian.AppendUint32(file, uint32(len(b))), "PAR1"...)
}

// read reads a file's rows.
func read(b []byte, limits ...format.Limits) (layers.Layer, error) {
	asked := layers.Asked{}
	if len(limits) > 0 {
		asked.Limits = limits[0]
	}
	return layers.Read(layers.Form{File: "a.parquet", Bytes: b}, asked)
}

// column1 reads the only column of a file.
func column1(t *testing.T, name string, b []byte) []string {
	t.Helper()
	l, err := read(b)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return nil
	}
	var all []string
	for _, row := range l.Rows {
		text := ""
		if len(row.Cells) > 0 {
			text = row.Cells[0]
		}
		all = append(all, text)
	}
	return all
}

// words, int32s and int64s are values as PLAIN writes them.
func words(texts ...string) (b []byte) {
	for _, text := range texts {
		b = append(binary.LittleEndian.AppendUint32(b, uint32(len(text))), text...)
	}
	return b
}

func int32s(values ...int32) (b []byte) {
	for _, v := range values {
		b = binary.LittleEndian.AppendUint32(b, uint32(v))
	}
	return b
}

func int64s(values ...int64) (b []byte) {
	for _, v := range values {
		b = binary.LittleEndian.AppendUint64(b, uint64(v))
	}
	return b
}
