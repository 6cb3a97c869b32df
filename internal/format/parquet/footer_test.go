package parquet

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/format"
)

// TestThriftValues: every type of Thrift's compact protocol, read and skipped (Thrift,
// doc/specs/thrift-compact-protocol.md: types 1 to 12; zigzag numbers; a list's size above its type).
func TestThriftValues(t *testing.T) {
	for _, c := range []struct {
		name  string
		kind  byte
		bytes []byte
		wrong string
	}{
		{"true", 1, nil, ""}, {"false", 2, nil, ""}, {"byte", 3, []byte{0xff}, ""}, {"i16", 4, []byte{0x80, 1}, ""}, {"i32", 5, []byte{1}, ""}, {"i64", 6, []byte{1}, ""}, {"double", 7, make([]byte, 8), ""}, {"text", 8, []byte{2, 'a', 'b'}, ""},
		{"list of three bytes", 9, []byte{0x33, 1, 2, 3}, ""}, {"list of truths", 9, []byte{0x21, 1, 2}, ""}, {"long list", 9, append([]byte{0xf5, 16}, make([]byte, 16)...), ""}, {"set of texts", 10, []byte{0x18, 1, 'a'}, ""}, {"empty map", 11, []byte{0}, ""}, {"map", 11, []byte{2, 0x85, 1, 'a', 1, 1, 'b', 2}, ""},
		{"structure", 12, []byte{0x15, 2, 0x21, 0x08, 6, 1, 'x', 0}, ""}, {"list of structures", 9, []byte{0x2c, 0x15, 2, 0, 0}, ""},
		{"no byte", 3, nil, thriftShort}, {"half a double", 7, make([]byte, 7), thriftShort}, {"text cut off", 8, []byte{3, 'a', 'b'}, thriftShort}, {"structure cut off", 12, []byte{0x15, 2}, thriftShort}, {"list cut off", 9, []byte{0x33, 1, 2}, thriftShort}, {"map cut off", 11, []byte{2, 0x85, 1, 'a', 1}, thriftShort},
		{"kind 0", 0, nil, "a value is of kind 0"}, {"kind 13", 13, nil, "a value is of kind 13"}, {"list of kind 0", 9, []byte{0x10}, "a value is of kind 0"}, {"too long a number", 6, bytes.Repeat([]byte{0xff}, 11), "a number is too long"},
	} {
		r := thrift{bytes: append(slices.Clone(c.bytes), 0x2a)} // one byte that must be left
		if c.wrong != "" {
			r.bytes = c.bytes
		}
		if r.skip(c.kind); r.wrong != c.wrong || c.wrong == "" && (r.at != len(c.bytes) || r.depth != 0) {
			t.Errorf("%s: %q, at byte %d of %d", c.name, r.wrong, r.at, len(c.bytes))
		}
	}
	for _, c := range []struct {
		kind  byte
		bytes []byte
		want  int64
	}{{3, []byte{0xfe}, -2}, {4, []byte{3}, -2}, {5, []byte{4}, 2}, {6, []byte{0x80, 1}, 64}, {6, []byte{0xff, 1}, -128}, {8, []byte{1, 'a'}, 0}, {1, nil, 0}} {
		r := thrift{bytes: c.bytes}
		if got := r.integer(c.kind); got != c.want || r.wrong != "" || r.at != len(c.bytes) {
			t.Errorf("% x as an integer of kind %d: %d, %s", c.bytes, c.kind, got, r.wrong)
		}
	}
	// a value of another type than the one wanted is passed over
	r := thrift{bytes: []byte{2, 1, 'a', 0x13, 7}}
	if text := r.text(5); text != nil || r.at != 1 {
		t.Errorf("a number as a text: %q", text)
	}
	r.structure(8, func(int64, byte) { t.Error("a text is a structure") })
	r.list(9, func(kind byte) { r.skip(kind) })
	if r.at != 5 || r.wrong != "" {
		t.Errorf("at byte %d, %s", r.at, r.wrong)
	}
	r = thrift{bytes: []byte{0x21, 1, 2}}
	if r.list(9, func(byte) {}); r.wrong != "a list has elements of kind 1" {
		t.Errorf("a list that is not read: %s", r.wrong)
	}
}

// TestThriftFields: numbers of fields are steps of up to 15, or written whole; nesting has its bound.
func TestThriftFields(t *testing.T) {
	var got []string
	r := thrift{bytes: []byte{0x15, 2, 0xf5, 4, 0x05, 40, 6, 0x11, 0}}
	r.fields(func(id int64, kind byte) { got = append(got, fmt.Sprint(id, ":", r.integer(kind))) })
	if strings.Join(got, " ") != "1:1 16:2 20:3 21:0" || r.wrong != "" || r.at != len(r.bytes) {
		t.Errorf("%q, %s", got, r.wrong)
	}
	for depth, want := range map[int]string{deepestThrift: "", deepestThrift + 1: "it is nested too deep"} {
		r := thrift{bytes: append(bytes.Repeat([]byte{0x1c}, depth-1), make([]byte, depth)...)}
		if r.skip(12); r.wrong != want {
			t.Errorf("%d structures in each other: %q", depth, r.wrong)
		}
		r = thrift{bytes: append(bytes.Repeat([]byte{0x19}, depth), 0x03)}
		if r.skip(9); (r.wrong == "it is nested too deep") != (want != "") {
			t.Errorf("%d lists in each other: %q", depth, r.wrong)
		}
	}
}

// TestFooters: the end of a file is its footer, the footer's length and the mark (Apache Parquet format,
// "File format").
func TestFooters(t *testing.T) {
	read := func(b string) error {
		_, err := readFooter(&format.Reading{Name: "a.parquet", Limits: format.DefaultLimits()}, strings.NewReader(b), int64(len(b)))
		return err
	}
	for b, want := range map[string]string{
		"PAR1\x00\x01\x00\x00\x00PAR1": "", "PAR1\x00\x00\x00\x00PAR1": "footer: the table of contents cannot be read: it ends early", "PAR1\x00\x00\x00PAR1": "footer: the file is cut off", "PAR1\x00\x02\x00\x00\x00PAR1": "footer: the file is cut off",
		"PAR1\x00\x01\x00\x00\x00PARE": "footer: the file is encrypted", "PAR1\x00\x01\x00\x00\x00PAR2": "footer: the file is cut off", "PAR1\x8c\x00\x00\x03\x00\x00\x00PAR1": "footer: the table of contents cannot be read: it is encrypted",
	} {
		err := read(b)
		got := ""
		if unusable, is := err.(*format.UnusableError); is {
			got = unusable.Place + ": " + unusable.Found
			if unusable.Remedy == "" {
				t.Errorf("%q has no remedy", b)
			}
		}
		if got != want {
			t.Errorf("%q: %s, want %s", b, got, want)
		}
	}
	for length, found := range map[int]string{mostFooter: "cannot be read", mostFooter + 1: "a table of contents of 33554433 bytes is above the limit"} {
		b := make([]byte, length+12)
		copy(b[len(b)-8:], []byte{byte(length), byte(length >> 8), byte(length >> 16), byte(length >> 24)})
		copy(b[len(b)-4:], "PAR1")
		b[4] = 0xff
		if err := read(string(b)); err == nil || !strings.Contains(err.Error(), found) {
			t.Errorf("a footer of %d bytes: %v", length, err)
		}
	}
}

// TestLeaves: the columns of a schema, which is a tree written from its root on: each level that is
// optional or repeated raises the definition level, each that is repeated the repetition level (Apache
// Parquet format, "Nested Encoding").
func TestLeaves(t *testing.T) {
	node := func(name string, repetition, children int64) element {
		return element{name: name, repetition: repetition, children: children, physical: -1}
	}
	column := func(name string, repetition int64) element {
		return element{name: name, repetition: repetition, physical: parquetInt32}
	}
	m := meta{schema: []element{node("root", 0, 3), column("a", 0), node("g", 1, 2), column("b", 1), node("l", 2, 1), column("c", 0), column("d", 2)}}
	var got []string
	for _, l := range m.leaves() {
		got = append(got, fmt.Sprint(l.name(), " ", l.definition, " ", l.repetition))
	}
	if want := []string{"a 0 0", "g.b 2 0", "g.l.c 2 1", "d 1 1"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	deep := func(n int) []element {
		schema := []element{node("root", 0, 1)}
		for range n - 1 {
			schema = append(schema, node("g", 0, 1))
		}
		return append(schema, column("a", 0))
	}
	for _, c := range []struct {
		name   string
		schema []element
		sound  bool
	}{
		{"nothing", nil, false}, {"a root of less than nothing", []element{node("root", 0, -1)}, false}, {"fewer than the root says", []element{node("root", 0, 2), column("a", 0)}, false}, {"more than it says", []element{node("root", 0, 1), column("a", 0), column("b", 0)}, false},
		{"no type", []element{node("root", 0, 1), {physical: -1}}, false}, {"type 7 without a length", []element{node("root", 0, 1), {physical: parquetFixed}}, false}, {"type 7", []element{node("root", 0, 1), {physical: parquetFixed, length: 1}}, true}, {"type 8", []element{node("root", 0, 1), {physical: 8, length: 1}}, false}, {"children of less than nothing", []element{node("root", 0, 1), {physical: 1, children: -1}}, false},
		{"as deep as can be", deep(deepestColumn), true}, {"too deep", deep(deepestColumn + 1), false},
	} {
		m := meta{schema: c.schema}
		if got := m.leaves(); (got != nil) != c.sound {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// TestRunsThatEnd: runs of one value of any width, groups cut off behind the values that exist, and
// what is none.
func TestRunsThatEnd(t *testing.T) {
	for _, c := range []struct {
		bytes []byte
		width uint
		want  []uint32
	}{
		{[]byte{4, 7, 2, 1}, 8, []uint32{7, 7, 1}}, {[]byte{2, 1, 2}, 16, []uint32{0x201}}, {[]byte{2, 1, 2, 3, 4}, 32, []uint32{0x04030201}}, {[]byte{4}, 0, []uint32{0, 0}}, {[]byte{3}, 0, make([]uint32, 8)}, {[]byte{2, 1}, 9, nil},
		{[]byte{5, 0xff, 0x01}, 2, []uint32{3, 3, 3, 3, 1, 0, 0, 0}}, {[]byte{3, 0xff}, 3, []uint32{7, 7}}, {[]byte{3}, 1, nil}, {nil, 1, nil}, {[]byte{0x80}, 1, nil}, {[]byte{3, 0b10101010, 2, 1}, 1, []uint32{0, 1, 0, 1, 0, 1, 0, 1, 1}},
	} {
		r := runs{bytes: c.bytes, width: c.width}
		var got []uint32
		for v, ok := r.next(); ok && len(got) < 20; v, ok = r.next() {
			got = append(got, v)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("% x of %d bits: %v, want %v", c.bytes, c.width, got, c.want)
		}
	}
	for most, want := range map[int]uint{0: 0, 1: 1, 2: 2, 3: 2, 4: 3, 7: 3, 8: 4} {
		if got := levelWidth(most); got != want {
			t.Errorf("levels up to %d have %d bits", most, got)
		}
	}
}

// TestHeadsOfDifferences: a block of a multiple of 128 values in miniblocks of a multiple of 32 (Apache
// Parquet format, Encodings.md, DELTA_BINARY_PACKED).
func TestHeadsOfDifferences(t *testing.T) {
	for _, c := range []struct {
		head  []byte
		sound bool
	}{
		{[]byte{0x80, 1, 4, 0, 0}, true}, {[]byte{0x80, 1, 1, 0, 0}, true}, {[]byte{0x80, 2, 4, 0, 0}, true}, {[]byte{0x80, 1, 8, 0, 0}, false}, {[]byte{0x80, 1, 3, 0, 0}, false}, {[]byte{0x80, 1, 0, 0, 0}, false}, {[]byte{0, 1, 0, 0}, false}, {[]byte{0x40, 1, 0, 0}, false}, {[]byte{0x80, 1, 4, 0}, false}, {[]byte{0x80, 0x80, 0x40, 1, 0, 0}, true}, {[]byte{0x80, 0x81, 0x40, 1, 0, 0}, false},
	} {
		if _, err := newDeltas(c.head); (err == nil) != c.sound {
			t.Errorf("% x: %v", c.head, err)
		}
	}
	head := []byte{0x80, 1, 4, 2, 0, 0, 64, 0, 0, 0}
	for bits, sound := range map[byte]bool{64: true, 65: false} {
		b := append(slices.Clone(head), make([]byte, 65*4)...)
		b[6] = bits
		d, err := newDeltas(b)
		if err != nil {
			t.Fatal(err)
		}
		d.number()
		if _, ok := d.number(); ok != sound {
			t.Errorf("differences of %d bits: %v", bits, ok)
		}
	}
}
