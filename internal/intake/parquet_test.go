package intake

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"

	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/format/detect"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// parquetFolder has files by two independent writers, with their source data;
// scripts/oracle_parquet.mjs gives versions and options.
var parquetFolder = filepath.Join("..", "..", "testdata", "parquet")

func storedParquet(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(parquetFolder, name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestParquetPoints: the stored survey is read alike from every way of writing it and from GeoJSON.
func TestParquetPoints(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "intake", "points.geojson"))
	if err != nil {
		t.Fatal(err)
	}
	want, _, _ := readPoints(t, string(text), testOptions())
	for name, system := range map[string]string{
		"feet.parquet": "NAD83 / California zone 5 (ftUS)", "groups.parquet": "WGS 84", "differences.parquet": "WGS 84", "native.parquet": "WGS 84", "script.parquet": "WGS 84",
	} {
		t.Run(name, func(t *testing.T) {
			p, findings, err := ReadPoints(onDisk(filepath.Join(parquetFolder, name), ""), testOptions())
			if err != nil || p.Format != "GeoParquet" || p.Read != 20 || p.System != system {
				t.Fatalf("%v: %s, %d read, in %s", err, p.Format, p.Read, p.System)
			}
			if n := check.Count(findings, check.Error) + check.Count(findings, check.Warning); n > 0 {
				t.Errorf("%d troubles: %v", n, findings)
			}
			if len(p.Extra) != 0 {
				t.Errorf("columns carried: %v", p.Extra)
			}
			got := survey.Examine(p.Records, survey.DefaultOptions(quarter)).Records
			samePoints(t, want, got)
		})
	}
}

// TestParquetLines: lines of lists of numbers.
func TestParquetLines(t *testing.T) {
	want, _, _ := readStreams(t, string(storedParquet(t, "lines.geojson")), testOptions())
	got, findings, _ := readStreams(t, string(storedParquet(t, "native_lines.parquet")), testOptions())
	if len(want) != 4 || len(findings) > 0 {
		t.Fatalf("%d lines wanted; findings %v", len(want), findings)
	}
	ours := cmp.Options{equateNaNs, cmpopts.IgnoreFields(stream.Centerline{}, "File")}
	if diff := cmp.Diff(want, got, ours); diff != "" {
		t.Errorf("other lines than from GeoJSON (-GeoJSON +this):\n%.3000s", diff)
	}
}

// TestParquetPatches: polygons of lists of numbers keep rings and holes.
func TestParquetPatches(t *testing.T) {
	want, _, _ := readPoints(t, string(storedParquet(t, "patches.geojson")), testOptions())
	got, _, _ := readPoints(t, string(storedParquet(t, "native_patches.parquet")), testOptions())
	if len(want) != 2 || len(got) != 2 {
		t.Fatalf("%d and %d records", len(want), len(got))
	}
	for i := range want {
		if diff := cmp.Diff(want[i].Outline, got[i].Outline); diff != "" {
			t.Errorf("patch %d differs:\n%s", i, diff)
		}
	}
}

// parquetRows reads a file's rows as texts by column.
func parquetRows(t *testing.T, b []byte) ([]string, [][]string, error) {
	t.Helper()
	r := format.Reading{Name: "f", Limits: format.DefaultLimits(), Log: &check.Log{}}
	var rows [][]string
	in := format.NewInput(testkit.Source("f", bytes.NewReader(b)), bytes.NewReader(b), 1<<30)
	err := detect.Read(&r, in, func(f *format.Feature) error {
		var row []string
		for _, c := range f.Cells {
			row = append(row, string(c.Text))
		}
		rows = append(rows, row)
		return nil
	})
	return r.Schema.Names, rows, err
}

// TestParquetTypes: values of every type as text. Expected texts are what the
// scripts wrote, in ISO 8601 and shortest digits.
func TestParquetTypes(t *testing.T) {
	names, rows, err := parquetRows(t, storedParquet(t, "types.parquet"))
	if err != nil {
		t.Fatal(err)
	}
	if want := "flag small unsigned long vast single moment wall day place.x place.y"; strings.Join(names, " ") != want {
		t.Errorf("columns %q, want %q", names, want)
	}
	want := [][]string{
		{"true", "-128", "4294967295", "9007199254740993", "18446744073709551615", "0.1", "2026-07-01T12:34:56.789Z", "2026-07-01T12:34:56.789", "2026-07-01", "1", "2"},
		{"false", "127", "0", "-9223372036854775808", "1", "-0.0000001", "1969-12-31T23:59:59.001Z", "1969-12-31T23:59:59.001", "1969-12-31", "3", "4"},
		{"", "", "", "", "", "", "", "", "", "5", "6"},
	}
	if diff := cmp.Diff(want, rows); diff != "" {
		t.Error(diff)
	}
	_, rows, err = parquetRows(t, storedParquet(t, "half.parquet"))
	want = [][]string{
		{"1.5", "f81d4fae-7dec-11d0-a765-00a0c91e6bf6", "1.25", "true"},
		{"-0.000061035156", "00000000-0000-0000-0000-000000000000", "-0.05", "false"},
		{"65504", "ffffffff-ffff-ffff-ffff-ffffffffffff", "1234.50", "true"},
	}
	if diff := cmp.Diff(want, rows); err != nil || diff != "" {
		t.Error(err, diff)
	}
}

// TestParquetTrouble: files that are damaged, too large, or use unsupported features, each with its
// message.
func TestParquetTrouble(t *testing.T) {
	feet, groups := storedParquet(t, "feet.parquet"), storedParquet(t, "groups.parquet")
	patch := func(b []byte, old, new string) []byte {
		t.Helper()
		if len(old) != len(new) || !bytes.Contains(b, []byte(old)) {
			t.Fatalf("no %q to make %q", old, new)
		}
		return bytes.ReplaceAll(b, []byte(old), []byte(new))
	}
	at := func(place int, b byte) []byte {
		out := bytes.Clone(feet)
		out[(place+len(out))%len(out)] = b
		return out
	}
	for _, c := range []struct {
		name, layer string
		bytes       []byte
		change      func(*Options)
		found       string
	}{
		{"Brotli", "", storedParquet(t, "brotli.parquet"), nil, "compression Brotli is not read"},
		{"cut off", "", feet[:len(feet)-1], nil, "cut off"},
		{"its first bytes only", "", []byte("PAR1"), nil, "cut off"},
		{"without its first half", "", append([]byte("PAR1"), feet[len(feet)/2:]...), nil, ""},
		{"encrypted", "", append(bytes.Clone(feet[:len(feet)-4]), "PARE"...), nil, "encrypted"},
		{"a footer longer than the file", "", at(-6, 1), nil, "cut off"},
		{"a footer of zeros", "", append(append([]byte("PAR1"), make([]byte, 100)...), "\x64\x00\x00\x00PAR1"...), nil, "no columns"},
		{"a list of two thousand million columns", "", []byte("PAR1\x29\xfc\xff\xff\xff\xff\x07\x00\x00\x00\x00\x00\x0c\x00\x00\x00PAR1"), nil, "cannot be read"},
		{"another primary column", "", patch(feet, `"primary_column":"geometry"`, `"primary_column":"geometri"`), nil, "not described"},
		{"an unknown encoding", "", patch(feet, `"encoding":"WKB"`, `"encoding":"WKX"`), nil, "not read"},
		{"no JSON", "", patch(feet, `{"version"`, `["version"`), nil, "cannot be read"},
		{"an unknown layer", "other", feet, nil, `no column of geometries "other"; it has geometry`},
		{"an old datum", "", patch(feet, `North American Datum 1983`, `North American Datum 1927`), nil, "more than a metre"},
		{"runs of one row", "", storedParquet(t, "rows.parquet"), nil, "the rows come to more than 200 times"},
		{"pages that pack a thousand times", "", storedParquet(t, "packed.parquet"), nil, "unpacks to more than 200 times"},
		{"more rows than the limit", "", groups, func(o *Options) { o.Limits.Records = 19 }, "more records than the limit"},
		{"more columns than the limit", "", groups, func(o *Options) { o.Limits.Columns = 6 }, "more columns than"},
		{"texts longer than the limit", "", groups, func(o *Options) { o.Limits.RecordBytes = 20 }, "longer than the limit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := testOptions()
			if c.change != nil {
				c.change(&o)
			}
			s := from(c.bytes)()
			s.Layer = c.layer
			_, _, err := ReadPoints(s, o)
			var unusable *format.UnusableError
			if !errors.As(err, &unusable) || !strings.Contains(unusable.Found, c.found) || unusable.Remedy == "" {
				t.Errorf("%v, want %q", err, c.found)
			}
		})
	}
}

// TestParquetDamaged changes a bit in every fifth byte of each file in turn: no panic, and an
// unreadable file is an UnusableError. A file with a changed value may be readable.
func TestParquetDamaged(t *testing.T) {
	for _, name := range []string{"feet.parquet", "groups.parquet", "differences.parquet", "native_patches.parquet", "types.parquet", "half.parquet"} {
		b := storedParquet(t, name)
		step := 5
		if testing.Short() {
			step = 37
		}
		for i := 0; i < len(b); i += step {
			damaged := bytes.Clone(b)
			damaged[i] ^= byte(1 << (i % 8))
			_, _, err := ReadPoints(from(damaged)(), testOptions())
			var unusable *format.UnusableError
			if err != nil && !errors.As(err, &unusable) {
				t.Fatalf("%s with byte %d changed: %v", name, i, err)
			}
		}
	}
}

// TestParquetUnknownSystem: a file whose coordinate system is stated as unknown is read as degrees
// only if its values can be degrees.
func TestParquetUnknownSystem(t *testing.T) {
	groups := storedParquet(t, "groups.parquet")
	null := bytes.Replace(groups, []byte(`"geometry_types":[]`), []byte(`"crs":null         `), 1)
	p, findings, err := ReadPoints(from(null)(), testOptions())
	if err != nil || p.Read != 20 || !strings.Contains(codes(findings), "reference-system-assumed") {
		t.Errorf("%v, %d read, %s", err, p.Read, codes(findings))
	}
}

// TestParquetTable: a table without geometries has positions in columns; a left-out list column is
// reported by name.
func TestParquetTable(t *testing.T) {
	o := testOptions()
	o.Mapping.Columns = single(map[string]string{"decimalLongitude": "place.x", "decimalLatitude": "place.y"})
	p, findings, err := ReadPoints(from(storedParquet(t, "types.parquet"))(), o)
	if err != nil || len(p.Records) != 3 || p.Records[2].Position != (orb.Point{5, 6}) {
		t.Fatalf("%v, %v", err, p.Records)
	}
	if !strings.Contains(codes(findings), "column-of-lists") {
		t.Errorf("lists are not told of: %s", codes(findings))
	}
}
