package parquet_test

import (
	"encoding/binary"
	"math"
	"slices"
	"strings"
	"testing"
)

// TestTypesAsText: every physical type, and every logical and older converted type of it (Apache Parquet
// format, LogicalTypes.md, and parquet.thrift for the numbers); by hand.
func TestTypesAsText(t *testing.T) {
	logical := func(id int, of ...field) field { return field{10, fields{{id, append(fields{}, of...)}}} }
	unit := func(n int) field { return field{2, fields{{n, fields{}}}} }
	converted := func(n int) field { return field{6, n} }
	const day = 20635 // 2026-07-01, counted from 1970
	const ms = int64(day)*86_400_000 + 45_296_789
	float := binary.LittleEndian.AppendUint64(nil, math.Float64bits(-1e-7))
	for _, c := range []struct {
		name, want string
		physical   int
		bytes      []byte
		of         []field
	}{
		{"boolean", "true", parquetBoolean, []byte{1}, nil}, {"boolean", "false", parquetBoolean, []byte{2}, nil}, {"int32", "-7", parquetInt32, int32s(-7), nil}, {"int64", "-9007199254740993", parquetInt64, int64s(-9007199254740993), nil},
		{"float", "0.1", parquetFloat, int32s(0x3dcccccd), nil}, {"double", "-0.0000001", parquetDouble, float, nil}, {"double that is none", "", parquetDouble, binary.LittleEndian.AppendUint64(nil, math.Float64bits(math.NaN())), nil},
		{"bytes that are text", "Ufer", parquetBytes, words("Ufer"), nil}, {"bytes that are none", "", parquetBytes, words("\xe4"), nil}, {"fixed", "abc", parquetFixed, []byte("abc"), []field{{2, 3}}},
		{"text", "ä", parquetBytes, words("\xe4"), []field{converted(0)}}, {"enum", "ä", parquetBytes, words("\xe4"), []field{converted(4)}}, {"JSON", "{}", parquetBytes, words("{}"), []field{converted(19)}},
		{"text", "ä", parquetBytes, words("\xe4"), []field{logical(1)}}, {"enum", "ä", parquetBytes, words("\xe4"), []field{logical(4)}}, {"JSON", "ä", parquetBytes, words("\xe4"), []field{logical(12)}},
		{"decimal", "-1.25", parquetInt32, int32s(-125), []field{converted(5), {7, 2}}}, {"decimal", "0.05", parquetInt64, int64s(5), []field{logical(5, field{1, 2}, field{2, 9})}}, {"decimal", "-0.05", parquetInt64, int64s(-5), []field{logical(5, field{1, 2})}}, {"decimal of no scale", "125", parquetInt32, int32s(125), []field{converted(5)}},
		{"decimal in bytes", "-1.28", parquetBytes, words("\x80"), []field{converted(5), {7, 2}}}, {"decimal in bytes", "1.27", parquetBytes, words("\x7f"), []field{converted(5), {7, 2}}}, {"decimal in fixed bytes", "-0.001", parquetFixed, []byte{0xff, 0xff}, []field{{2, 2}, converted(5), {7, 3}}}, {"decimal of nothing", "", parquetBytes, words(""), []field{converted(5)}},
		{"decimal of 64 bytes", "1", parquetFixed, append(make([]byte, 63), 1), []field{{2, 64}, converted(5)}}, {"decimal of 65 bytes", "", parquetFixed, append(make([]byte, 64), 1), []field{{2, 65}, converted(5)}},
		{"decimal of scale 256", "0." + strings.Repeat("0", 255) + "1", parquetBytes, words("\x01"), []field{converted(5), {7, 256}}}, {"decimal of scale 257", "", parquetBytes, words("\x01"), []field{converted(5), {7, 257}}}, {"decimal of a scale below", "", parquetBytes, words("\x01"), []field{converted(5), {7, -1}}},
		{"date", "2026-07-01", parquetInt32, int32s(day), []field{converted(6)}}, {"date", "1969-12-31", parquetInt32, int32s(-1), []field{logical(6)}},
		{"time in ms", "12:34:56.789", parquetInt32, int32s(45_296_789), []field{converted(7)}}, {"time in us", "00:00:00.000001", parquetInt64, int64s(1), []field{converted(8)}}, {"time in ns", "00:00:00.000000001", parquetInt64, int64s(1), []field{logical(7, field{1, true}, unit(3))}},
		{"time in us", "00:00:01", parquetInt64, int64s(1e6), []field{logical(7, field{1, false}, unit(2))}}, {"time in ms", "00:00:01", parquetInt32, int32s(1000), []field{logical(7, field{1, false}, unit(1))}},
		{"moment in ms", "2026-07-01T12:34:56.789Z", parquetInt64, int64s(ms), []field{converted(9)}}, {"moment in us", "2026-07-01T12:34:56.789Z", parquetInt64, int64s(ms * 1000), []field{converted(10)}},
		{"local time in ms", "2026-07-01T12:34:56.789", parquetInt64, int64s(ms), []field{logical(8, field{1, false}, unit(1))}}, {"moment in us", "1969-12-31T23:59:59.999999Z", parquetInt64, int64s(-1), []field{logical(8, field{1, true}, unit(2))}}, {"moment in ns", "1970-01-01T00:00:00.000000001Z", parquetInt64, int64s(1), []field{logical(8, field{1, true}, unit(3))}},
		{"unsigned 8", "255", parquetInt32, int32s(255), []field{converted(11)}}, {"unsigned 16", "65535", parquetInt32, int32s(65535), []field{converted(12)}}, {"unsigned 32", "4294967295", parquetInt32, int32s(-1), []field{converted(13)}}, {"unsigned 64", "18446744073709551615", parquetInt64, int64s(-1), []field{converted(14)}},
		{"signed 8", "-1", parquetInt32, int32s(-1), []field{converted(15)}}, {"signed 64", "-1", parquetInt64, int64s(-1), []field{converted(18)}}, {"unsigned", "4294967295", parquetInt32, int32s(-1), []field{logical(10, field{1, 8}, field{2, false})}}, {"signed", "-1", parquetInt32, int32s(-1), []field{logical(10, field{1, 8}, field{2, true})}},
		{"UUID", "00112233-4455-6677-8899-aabbccddeeff", parquetFixed, []byte("\x00\x11\x22\x33\x44\x55\x66\x77\x88\x99\xaa\xbb\xcc\xdd\xee\xff"), []field{{2, 16}, logical(14)}}, {"UUID of four bytes", "0a1b2c3d", parquetFixed, []byte("\x0a\x1b\x2c\x3d"), []field{{2, 4}, logical(14)}},
		{"half", "1.5", parquetFixed, []byte{0, 0x3e}, []field{{2, 2}, logical(15)}}, {"smallest half", "0.000000059604645", parquetFixed, []byte{1, 0}, []field{{2, 2}, logical(15)}}, {"least normal half", "0.000061035156", parquetFixed, []byte{0, 4}, []field{{2, 2}, logical(15)}},
		{"largest half", "-65504", parquetFixed, []byte{0xff, 0xfb}, []field{{2, 2}, logical(15)}}, {"endless half", "+Inf", parquetFixed, []byte{0, 0x7c}, []field{{2, 2}, logical(15)}}, {"half below all", "-Inf", parquetFixed, []byte{0, 0xfc}, []field{{2, 2}, logical(15)}}, {"no half", "", parquetFixed, []byte{1, 0x7c}, []field{{2, 2}, logical(15)}}, {"half of three bytes", "", parquetFixed, []byte{0, 0x3e, 0}, []field{{2, 3}, logical(15)}},
		{"old moment", "2026-07-01T01:02:03.004Z", parquetInt96, binary.LittleEndian.AppendUint32(int64s(3_723_004_000_000), 2_461_223), nil}, // Julian day 2440588 is 1970-01-01
	} {
		element := append(fields{{1, c.physical}}, c.of...)
		slices.SortStableFunc(element, func(a, b field) int { return a.id - b.id })
		at := slices.IndexFunc(element, func(f field) bool { return f.id > 4 })
		if at < 0 {
			at = len(element)
		}
		element = slices.Insert(element, at, field{4, "a"})
		if got := column1(t, c.name, table(1, element, plain(1, encodingPlain, c.bytes))); !slices.Equal(got, []string{c.want}) {
			t.Errorf("%s: %q, want %s", c.name, got, c.want)
		}
	}
}

// TestColumnsLeftOut: bytes of kinds that are no text, and lists, which are told by name; a file of
// nothing else is refused.
func TestColumnsLeftOut(t *testing.T) {
	number := plain(1, encodingPlain, int32s(7))
	for name, of := range map[string][]field{"BSON": {{6, 20}}, "interval": {{6, 21}}, "BSON as it is now": {{10, fields{{13, fields{}}}}}, "variant": {{10, fields{{16, fields{}}}}}, "null": {{10, fields{{11, fields{}}}}}} {
		l, err := read(several(1, []fields{{{4, "root"}, {5, 2}}, append(fields{{1, parquetBytes}, {4, "a"}}, of...), {{1, parquetInt32}, {4, "n"}}}, [][]byte{plain(1, encodingPlain, words("x")), number}))
		if err != nil || strings.Join(l.Names, " ") != "n" || len(l.Told) > 0 {
			t.Errorf("%s: %q, told %q, %v", name, l.Names, l.Tell(), err)
		}
		_, err = read(table(1, append(fields{{1, parquetBytes}, {4, "a"}}, of...), plain(1, encodingPlain, words("x"))))
		refuses(t, name, err, "", "the file has neither geometries nor columns of texts or numbers", "save the layer as GeoPackage")
	}
	list := []fields{{{4, "root"}, {5, 2}}, {{3, 2}, {4, "l"}, {5, 2}}, {{1, parquetInt32}, {4, "x"}}, {{1, parquetInt32}, {4, "y"}}, {{1, parquetInt32}, {4, "n"}}}
	l, err := read(several(1, list, [][]byte{number, number, number}))
	if err != nil || strings.Join(l.Names, " ") != "n" || strings.Join(l.Tell(), "|") != `column-of-lists  "l" "": the column l holds lists; it was left out` {
		t.Errorf("a list: %q, told %q, %v", l.Names, l.Tell(), err)
	}
	nested := []fields{{{4, "root"}, {5, 1}}, {{3, 1}, {4, "place"}, {5, 1}}, {{1, parquetInt32}, {4, "x"}}}
	l, err = read(several(1, nested, [][]byte{page(pageData, 6+4, append([]byte{2, 0, 0, 0, 2, 1}, int32s(7)...), field{5, fields{{1, 1}, {2, 0}, {3, 3}, {4, 3}}})}))
	if err != nil || strings.Join(l.Describe(), "|") != "place.x=7" {
		t.Errorf("a group: %q, %v", l.Describe(), err)
	}
}
