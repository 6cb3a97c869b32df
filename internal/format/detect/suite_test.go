package detect_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/format"
	"driftreach/internal/format/detect"
	"driftreach/internal/testkit/layers"
)

// The tests that every format passes. A format of the list without a layer to be
// tried with fails the first.

// everyForm runs a test on the layer in each format.
func everyForm(t *testing.T, do func(t *testing.T, f layers.Form)) {
	t.Helper()
	tried := map[string]bool{}
	for _, f := range layers.Forms(t) {
		tried[f.Format] = true
		t.Run(f.File, func(t *testing.T) { do(t, f) })
	}
	for _, f := range detect.Formats {
		if name := f.Traits().Name; !tried[name] {
			t.Errorf("%s is in the list and has no layer to be tried with", name)
		}
	}
}

// ids are those of the layer: r00 to r19.
func ids() (all []string) {
	for i := range 20 {
		all = append(all, fmt.Sprintf("r%02d", i))
	}
	return all
}

// TestSameLayerInEveryFormat: places within 0.1 mm or the seven decimals written, ids
// in the order of the file, and the format told by its bytes alone.
func TestSameLayerInEveryFormat(t *testing.T) {
	want, err := layers.Read(layers.FormOf(t, "GeoJSON"), layers.Asked{})
	if err != nil || len(want.Rows) != 20 {
		t.Fatalf("%d rows to compare with, %v", len(want.Rows), err)
	}
	everyForm(t, func(t *testing.T, f layers.Form) {
		f.File = "f"
		got, err := layers.Read(f, layers.Asked{})
		if err != nil {
			t.Fatal(err)
		}
		if want := f.Within; got.Format != f.Format && got.Format != want {
			t.Errorf("told as %s", got.Format)
		}
		if diff := cmp.Diff(ids(), got.Column(f.ID)); diff != "" {
			t.Errorf("ids (-want +got):\n%s", diff)
		}
		for i, row := range got.Rows {
			p := want.Rows[i].Points[0]
			if row.Kind != format.PointShape || len(row.Points) != 1 || row.Wrong != "" || math.Hypot(row.Points[0][0]-p[0], row.Points[0][1]-p[1]) > 1e-7 {
				t.Errorf("row %d is %v of kind %d %s, want %v", i, row.Points, row.Kind, row.Wrong, p)
			}
		}
	})
}

// TestStreamIsAsGoodAsAFile: byte by byte, and without reading by place.
func TestStreamIsAsGoodAsAFile(t *testing.T) {
	everyForm(t, func(t *testing.T, f layers.Form) {
		want, _ := layers.Read(f, layers.Asked{})
		got, err := layers.Read(f, layers.Asked{Stream: true})
		if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Errorf("%v (-file +stream):\n%s", err, diff)
		}
	})
}

// TestCutOffAnywhere: what is cut off cannot be used, and is never a shorter layer;
// rows of text alone cannot know.
func TestCutOffAnywhere(t *testing.T) {
	everyForm(t, func(t *testing.T, f layers.Form) {
		whole := f.Bytes
		for n := 0; n < len(whole); n += 1 + len(whole)/150 {
			f.Bytes = whole[:n]
			got, err := layers.Read(f, layers.Asked{})
			var unusable *format.UnusableError
			switch {
			case errors.As(err, &unusable) && unusable.Found != "" && unusable.Remedy != "":
			case err == nil && len(got.Rows) == 20 && n >= len(whole)-1: // all but the line's end
			case err == nil && !f.Cut && n > 0:
			default:
				t.Errorf("after %d of %d bytes: %d rows, %v", n, len(whole), len(got.Rows), err)
			}
		}
	})
}

// TestChangedBytes: with any byte changed to anything, Hold holds.
func TestChangedBytes(t *testing.T) {
	everyForm(t, func(t *testing.T, f layers.Form) {
		whole := f.Bytes
		for i := 0; i < len(whole); i += 1 + len(whole)/100 {
			f.Bytes = bytes.Clone(whole)
			for _, b := range []byte{0, 0xff, 0x80, '<', '"', whole[i] ^ 1} {
				f.Bytes[i] = b
				layers.Hold(t, f)
			}
		}
	})
}

// TestBlankDocument: nothing, and blanks.
func TestBlankDocument(t *testing.T) {
	everyForm(t, func(t *testing.T, f layers.Form) {
		for _, text := range []string{"", " \r\n\t"} {
			f.Bytes = []byte(text)
			var unusable *format.UnusableError
			if _, err := layers.Read(f, layers.Asked{}); !errors.As(err, &unusable) || !strings.Contains(unusable.Found, "empty") {
				t.Errorf("%q: %v", text, err)
			}
		}
	})
}

// TestUnknownLayer: a layer that a document does not have is never another one, and
// the error, where there is one, names what it has.
func TestUnknownLayer(t *testing.T) {
	everyForm(t, func(t *testing.T, f layers.Form) {
		got, err := layers.Read(f, layers.Asked{Layer: "no such layer"})
		if f.Layers && len(got.Rows) > 0 {
			t.Errorf("%d rows of another layer", len(got.Rows))
		}
		var unusable *format.UnusableError
		if err != nil && !errors.As(err, &unusable) {
			t.Error(err)
		}
	})
}

// errStop is what ends the reading in the tests below.
var errStop = errors.New("no more")

// TestReadingEndsWhereItIsToldTo: an error of take is returned unchanged, and no feature is read after
// it.
func TestReadingEndsWhereItIsToldTo(t *testing.T) {
	everyForm(t, func(t *testing.T, f layers.Form) {
		taken := 0
		_, err := layers.Read(f, layers.Asked{Take: func(*format.Feature) error {
			if taken++; taken == 3 {
				return errStop
			}
			return nil
		}})
		if !errors.Is(err, errStop) || taken != 3 {
			t.Errorf("%v after %d features", err, taken)
		}
	})
}

// TestDiskFails: an error of the disk is not reported as a fault of the file.
func TestDiskFails(t *testing.T) {
	everyForm(t, func(t *testing.T, f layers.Form) {
		_, err := layers.Read(f, layers.Asked{Failing: errStop})
		var unusable *format.UnusableError
		if !errors.Is(err, errStop) || errors.As(err, &unusable) {
			t.Error(err)
		}
	})
}

// TestLimitsOfEveryFormat: limits of bytes, of columns and, in memory or an archive, of the bytes of a
// member; each error names its limit.
func TestLimitsOfEveryFormat(t *testing.T) {
	everyForm(t, func(t *testing.T, f layers.Form) {
		limits := format.DefaultLimits()
		limits.Columns = 2
		member := format.DefaultLimits()
		member.MemberBytes = 100
		for name, asked := range map[string]layers.Asked{
			"bytes": {Bytes: 50}, "columns": {Limits: limits}, "member": {Limits: member, Stream: true},
		} {
			_, err := layers.Read(f, asked)
			var unusable *format.UnusableError
			texts := slices.Contains([]string{"CSV", "GeoJSON", "GPX", "KML", "Shapefile"}, f.Format)
			if name == "member" && texts { // read from end to end, and never held
				if err != nil {
					t.Errorf("%s: %v", name, err)
				}
				continue
			}
			if !errors.As(err, &unusable) || !strings.Contains(unusable.Found, "limit") && !strings.Contains(unusable.Found, "more than 2 ") {
				t.Errorf("%s: %v", name, err)
			}
		}
	})
}
