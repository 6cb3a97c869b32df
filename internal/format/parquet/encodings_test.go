package parquet_test

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"testing"

	"github.com/klauspost/compress/snappy"
	"github.com/klauspost/compress/zstd"

	"driftreach/internal/format"
)

// refuses compares an error whole: place, what was found and the remedy.
func refuses(t *testing.T, name string, err error, place, found, remedy string) {
	t.Helper()
	var unusable *format.UnusableError
	if !errors.As(err, &unusable) || unusable.Place != place || unusable.Found != found || unusable.Remedy != remedy {
		t.Errorf("%s: %v, want %s: %s; %s", name, err, place, found, remedy)
	}
}

const copyAgain = "copy the file again, or save the layer as GeoPackage"

// The examples of Encodings.md: 1 to 5, and the lengths and texts of "DELTA_LENGTH_BYTE_ARRAY", here
// with the lengths 5, 5, 6, 6 of Hello, World, Foobar, ABCDEF: differences 0, 1, 0 of which the least is
// 0, one bit each.
var (
	oneToFive = []byte{0x80, 1, 4, 5, 2, 2, 0, 0, 0, 0}
	lengths   = append([]byte{0x80, 1, 4, 4, 10, 0, 1, 0, 0, 0}, 0b010, 0, 0, 0)
	helloed   = append(slices.Clone(lengths), "HelloWorldFoobarABCDEF"...)
)

// TestEncodingsOfValues: every encoding that is read, for every type it is written for (Apache Parquet
// format, Encodings.md).
func TestEncodingsOfValues(t *testing.T) {
	// axis, axle, babble, babyhood: prefixes 0, 2, 0, 3 and suffixes of 4, 2, 6, 5 letters, as in the
	// format's example of DELTA_BYTE_ARRAY
	prefixes := append([]byte{0x80, 1, 4, 4, 0, 3, 3, 0, 0, 0}, packed(3, 4, 0, 5)...) // differences 2, -2, 3, less their least, -2
	suffixes := append([]byte{0x80, 1, 4, 4, 8, 3, 3, 0, 0, 0}, packed(3, 0, 6, 1)...) // differences -2, 4, -1
	front := append(append(prefixes, suffixes...), "axislebabbleyhood"...)
	split := []byte{1, 2, 3, 0, 1, 0, 0, 0, 0, 0, 0, 0xff} // the numbers 1, 258 and -16777213 by first, second, third and fourth bytes
	for _, c := range []struct {
		name     string
		physical int
		length   int
		pages    []byte
		want     []string
	}{
		{"plain numbers", parquetInt32, 0, plain(2, encodingPlain, int32s(1, -2)), []string{"1", "-2"}},
		{"two pages", parquetInt32, 0, append(plain(1, encodingPlain, int32s(1)), plain(1, encodingPlain, int32s(-2))...), []string{"1", "-2"}},
		{"plain truths", parquetBoolean, 0, plain(9, encodingPlain, []byte{0b10000001, 1}), []string{"true", "false", "false", "false", "false", "false", "false", "true", "true"}},
		{"dictionary", parquetBytes, 0, append(dictionary(2, words("a", "b")), plain(3, encodingDictionary, []byte{1, 3, 0b101})...), []string{"b", "a", "b"}},
		{"old dictionary", parquetInt32, 0, append(page(pageDictionary, 8, int32s(5, 6), field{7, fields{{1, 2}, {2, encodingPlainDictionary}}}), plain(2, encodingPlainDictionary, []byte{1, 4, 1})...), []string{"6", "6"}},
		{"dictionary of one", parquetBytes, 0, append(dictionary(1, words("a")), plain(2, encodingDictionary, []byte{0, 4})...), []string{"a", "a"}},
		{"runs of truths", parquetBoolean, 0, plain(9, encodingRuns, []byte{4, 0, 0, 0, 16, 1, 2, 0}), []string{"true", "true", "true", "true", "true", "true", "true", "true", "false"}},
		{"differences", parquetInt32, 0, plain(5, encodingDelta, oneToFive), []string{"1", "2", "3", "4", "5"}}, {"differences", parquetInt64, 0, plain(5, encodingDelta, oneToFive), []string{"1", "2", "3", "4", "5"}},
		{"lengths and texts", parquetBytes, 0, plain(4, encodingDeltaLength, helloed), []string{"Hello", "World", "Foobar", "ABCDEF"}},
		{"prefixes", parquetBytes, 0, plain(4, encodingDeltaBytes, front), []string{"axis", "axle", "babble", "babyhood"}},
		{"split", parquetInt32, 0, plain(3, encodingSplit, split), []string{"1", "258", "-16777213"}}, {"split of fixed bytes", parquetFixed, 2, plain(3, encodingSplit, []byte("adgbeh")), []string{"ab", "de", "gh"}},
		{"split of long numbers", parquetInt64, 0, plain(1, encodingSplit, int64s(-5)), []string{"-5"}}, {"split of doubles", parquetDouble, 0, plain(1, encodingSplit, []byte{0, 0, 0, 0, 0, 0, 0xf8, 0x3f}), []string{"1.5"}}, {"split of floats", parquetFloat, 0, plain(1, encodingSplit, []byte{0, 0, 0xc0, 0x3f}), []string{"1.5"}},
		{"an index of pages between", parquetInt32, 0, append(page(pageIndex, 9, []byte("any bytes"), field{6, fields{}}), plain(1, encodingPlain, int32s(1))...), []string{"1"}},
	} {
		got := column1(t, c.name, table(len(c.want), fields{{1, c.physical}, {2, c.length}, {4, "a"}}, c.pages))
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// short leaves the last byte out.
func short(b []byte) []byte { return b[:len(b)-1] }

// packed packs numbers of so many bits into a miniblock of 32, the lowest bits first.
func packed(width int, values ...uint64) []byte {
	b := make([]byte, 4*width)
	for i, v := range values {
		for k := range width {
			if v>>k&1 == 1 {
				at := i*width + k
				b[at/8] |= 1 << (at % 8)
			}
		}
	}
	return b
}

// TestEncodingsNotRead: a type that an encoding is not written for, and values that end early, with the
// column and the row.
func TestEncodingsNotRead(t *testing.T) {
	const usual = "save the file again with Zstandard or Snappy compression and the usual encodings, unencrypted, or as GeoPackage"
	way := func(encoding, physical int) string {
		return fmt.Sprintf("its values are encoded in way %d, which is not read for values of type %d", encoding, physical)
	}
	const values, differences, sense = "its values cannot be read", "its differences cannot be read", "a page's header makes no sense"
	for _, c := range []struct {
		name     string
		physical int
		rows     int
		pages    []byte
		row      int
		found    string
	}{
		{"runs of numbers", parquetInt32, 1, plain(1, encodingRuns, make([]byte, 8)), 1, way(encodingRuns, parquetInt32)}, {"truths without a length", parquetBoolean, 1, plain(1, encodingRuns, []byte{0, 0, 0}), 1, way(encodingRuns, parquetBoolean)},
		{"differences of texts", parquetBytes, 1, plain(1, encodingDelta, oneToFive), 1, way(encodingDelta, parquetBytes)}, {"lengths of numbers", parquetInt32, 1, plain(1, encodingDeltaLength, helloed), 1, way(encodingDeltaLength, parquetInt32)}, {"prefixes of numbers", parquetInt64, 1, plain(1, encodingDeltaBytes, helloed), 1, way(encodingDeltaBytes, parquetInt64)},
		{"split texts", parquetBytes, 1, plain(1, encodingSplit, words("a")), 1, way(encodingSplit, parquetBytes)}, {"split truths", parquetBoolean, 1, plain(1, encodingSplit, []byte{1}), 1, way(encodingSplit, parquetBoolean)}, {"split old moments", parquetInt96, 1, plain(1, encodingSplit, make([]byte, 12)), 1, way(encodingSplit, parquetInt96)}, {"an encoding of none", parquetInt32, 1, plain(1, 4, int32s(1)), 1, way(4, parquetInt32)},
		{"too few numbers", parquetInt32, 2, plain(2, encodingPlain, int32s(1)), 2, values}, {"half a number", parquetInt64, 1, plain(1, encodingPlain, make([]byte, 7)), 1, values}, {"too few truths", parquetBoolean, 9, plain(9, encodingPlain, []byte{1}), 9, values}, {"a text without a length", parquetBytes, 1, plain(1, encodingPlain, []byte{1, 0, 0}), 1, values}, {"a text too long", parquetBytes, 1, plain(1, encodingPlain, []byte{2, 0, 0, 0, 'a'}), 1, values}, {"half an old moment", parquetInt96, 1, plain(1, encodingPlain, make([]byte, 11)), 1, values},
		{"too few split", parquetInt32, 2, plain(2, encodingSplit, int32s(1)), 2, values}, {"beyond the dictionary", parquetInt32, 1, append(dictionary(1, int32s(5)), plain(1, encodingDictionary, []byte{1, 3, 1})...), 1, values}, {"no dictionary", parquetInt32, 1, plain(1, encodingDictionary, []byte{1, 3, 1}), 1, values}, {"an empty page of a dictionary", parquetInt32, 1, append(dictionary(1, int32s(5)), plain(1, encodingDictionary, nil)...), 1, values},
		{"places of 33 bits", parquetInt32, 1, append(dictionary(1, int32s(5)), plain(1, encodingDictionary, []byte{33, 3, 1})...), 1, "places in its dictionary are of 33 bits"}, {"a dictionary cut off", parquetInt32, 1, dictionary(2, int32s(5)), 1, "its dictionary ends early"}, {"two dictionaries", parquetInt32, 1, append(dictionary(1, int32s(5)), dictionary(1, int32s(5))...), 1, "its dictionary cannot be read"},
		{"a dictionary of truths", parquetBoolean, 1, dictionary(1, []byte{1}), 1, "its dictionary cannot be read"}, {"a dictionary of differences", parquetInt32, 1, page(pageDictionary, 4, int32s(5), field{7, fields{{1, 1}, {2, encodingDelta}}}), 1, "its dictionary cannot be read"},
		{"no differences", parquetInt32, 1, plain(1, encodingDelta, nil), 1, differences}, {"a block of 64", parquetInt32, 1, plain(1, encodingDelta, []byte{64, 1, 1, 0}), 1, differences}, {"no lengths", parquetBytes, 1, plain(1, encodingDeltaLength, nil), 1, differences}, {"lengths cut off", parquetBytes, 4, plain(4, encodingDeltaLength, lengths[:12]), 1, differences}, {"texts cut off", parquetBytes, 4, plain(4, encodingDeltaLength, helloed[:len(helloed)-1]), 4, values},
		{"no suffixes", parquetBytes, 4, plain(4, encodingDeltaBytes, lengths), 1, differences}, {"a prefix of nothing", parquetBytes, 4, plain(4, encodingDeltaBytes, append(slices.Clone(lengths), helloed...)), 1, values},
		{"fewer rows", parquetInt32, 3, plain(2, encodingPlain, int32s(1, 2)), 3, "the column ends early"}, {"a page of no kind", parquetInt32, 1, page(9, 4, int32s(1), field{5, fields{{1, 1}}}), 1, "a page is of kind 9"}, {"no header", parquetInt32, 1, []byte{0x15}, 1, "a page's header cannot be read: it ends early"}, {"a broken header", parquetInt32, 1, []byte{0x1f}, 1, "a page's header cannot be read: a value is of kind 15"},
		{"a negative count", parquetInt32, 1, plain(-1, encodingPlain, int32s(1)), 1, sense}, {"a negative size", parquetInt32, 1, page(pageData, -1, int32s(1), field{5, fields{{1, 1}}}), 1, sense}, {"a page beyond its chunk", parquetInt32, 1, short(plain(1, encodingPlain, int32s(1))), 1, sense}, {"levels longer than the page", parquetInt32, 1, page(pageData2, 4, int32s(1), field{8, fields{{1, 1}, {4, 0}, {5, 3}, {6, 2}}}), 1, sense},
		{"another size", parquetInt32, 1, page(pageData, 5, int32s(1), field{5, fields{{1, 1}, {2, 0}}}), 1, "a page cannot be unpacked: a page is not of the size it claims"},
	} {
		element := fields{{1, c.physical}, {4, "a"}}
		_, err := read(table(c.rows, element, c.pages))
		remedy := copyAgain
		if c.found == way(encodingRuns, c.physical) || c.found == way(encodingDelta, c.physical) || c.found == way(encodingDeltaLength, c.physical) || c.found == way(encodingDeltaBytes, c.physical) || c.found == way(encodingSplit, c.physical) || c.found == way(4, c.physical) {
			remedy = usual
		}
		refuses(t, c.name, err, fmt.Sprintf("column a, row %d", c.row), "the column cannot be read: "+c.found, remedy)
	}
}

// TestLevels: nulls in pages of both versions, with and without the compression of values; and levels
// that cannot be read.
func TestLevels(t *testing.T) {
	optional := fields{{1, parquetInt32}, {3, 1}, {4, "a"}}
	levels := []byte{3, 0b101} // packed: a value, a null, a value
	body := int32s(1, 2)
	first := append(binary.LittleEndian.AppendUint32(nil, 2), append(slices.Clone(levels), body...)...)
	second := append(slices.Clone(levels), body...)
	v1 := func(encoding int, b []byte) []byte {
		return page(pageData, len(b), b, field{5, fields{{1, 3}, {2, 0}, {3, encoding}, {4, 4}}})
	}
	v2 := func(size int, b []byte, more ...field) []byte {
		return page(pageData2, size, b, field{8, append(fields{{1, 3}, {2, 1}, {3, 3}, {4, 0}, {5, 2}, {6, 0}}, more...)})
	}
	for name, pages := range map[string][]byte{"version 1": v1(encodingRuns, first), "version 2": v2(len(second), second), "version 2, not compressed": v2(len(second), second, field{7, false})} {
		if got := column1(t, name, table(3, optional, pages)); !slices.Equal(got, []string{"1", "", "2"}) {
			t.Errorf("%s: %q", name, got)
		}
	}
	if got := column1(t, "levels alone", table(3, optional, page(pageData2, 2, []byte{6, 0}, field{8, fields{{1, 3}, {2, 3}, {3, 3}, {4, 0}, {5, 2}, {6, 0}}}), field{4, codecSnappy})); !slices.Equal(got, []string{"", "", ""}) {
		t.Errorf("levels alone: %q", got)
	}
	for name, codec := range map[string]int{"Snappy": codecSnappy, "gzip": codecGzip, "Zstandard": codecZstd} {
		for version, pages := range map[string][]byte{
			"1": page(pageData, len(first), compressed(t, codec, first), field{5, fields{{1, 3}, {2, 0}, {3, 3}, {4, 3}}}),
			"2": v2(len(second), append(slices.Clone(levels), compressed(t, codec, body)...)), "2, not compressed": v2(len(second), second, field{7, false}),
		} {
			if got := column1(t, name+" "+version, table(3, optional, pages, field{4, codec})); !slices.Equal(got, []string{"1", "", "2"}) {
				t.Errorf("%s, version %s: %q", name, version, got)
			}
		}
		wrong := page(pageData, len(first)+1, compressed(t, codec, first), field{5, fields{{1, 3}, {2, 0}, {3, 3}, {4, 3}}})
		_, err := read(table(3, optional, wrong, field{4, codec}))
		refuses(t, name+" of another size", err, "column a, row 1", "the column cannot be read: a page cannot be unpacked: a page is not of the size it claims", copyAgain)
	}
	for name, c := range map[string]struct {
		pages      []byte
		row, found string
	}{
		"bit-packed levels": {v1(4, first), "1", "its levels are encoded in way 4, which is not read"}, "no room for a length": {v1(encodingRuns, []byte{1, 0, 0}), "1", "a page ends early"}, "levels longer than the page": {v1(encodingRuns, []byte{1, 0, 0, 0}), "1", "a page ends early"},
		"too few levels": {v1(encodingRuns, []byte{2, 0, 0, 0, 2, 1, 1, 0, 0, 0}), "2", "its levels cannot be read"}, "a level too high": {v1(encodingRuns, []byte{2, 0, 0, 0, 6, 3, 1, 0, 0, 0}), "1", "its levels cannot be read"},
	} {
		_, err := read(table(3, optional, c.pages))
		remedy := copyAgain
		if name == "bit-packed levels" {
			remedy = "save the file again with Zstandard or Snappy compression and the usual encodings, unencrypted, or as GeoPackage"
		}
		refuses(t, name, err, "column a, row "+c.row, "the column cannot be read: "+c.found, remedy)
	}
}

// compressed packs bytes with another program's code.
func compressed(t *testing.T, codec int, b []byte) []byte {
	t.Helper()
	switch codec {
	case codecSnappy:
		return snappy.Encode(nil, b)
	case codecGzip:
		var out bytes.Buffer
		z := gzip.NewWriter(&out)
		z.Write(b)
		z.Close()
		return out.Bytes()
	}
	z, err := zstd.NewWriter(nil)
	if err != nil {
		t.Fatal(err)
	}
	return z.EncodeAll(b, nil)
}
