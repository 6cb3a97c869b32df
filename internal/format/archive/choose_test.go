package archive_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

// zipped is an archive of tables with one row each, r0 in the first, r1 in the second and so on.
func zipped(t *testing.T, names ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i, name := range names {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasSuffix(name, "/") {
			fmt.Fprintf(w, "occurrenceID,decimalLongitude,decimalLatitude\nr%d,1%d,20\n", i, i)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Which member of an archive is read, by hand: the only one, or the one that is named, with its ending
// or without, with its folder where two have its name. Folders, hidden files and those of a Mac do not
// count. Where none is named the message lists the layers: by their names alone if no other has the
// same, else with their folders; and the remedy names the first.
func TestWhichMember(t *testing.T) {
	for _, c := range []struct {
		members, layer string
		want           string // the row that is read, or a part of the message and the remedy
	}{
		{"a.csv", "", "r0"}, {"a.csv", "a", "r0"}, {"in/deep/a.csv", "", "r0"}, {"d/ .hidden.csv __MACOSX/a.csv a.csv", "", "r3"}, {"readme.md a.csv", "", "r1"},
		{"a.csv b.csv", "b", "r1"}, {"a.csv b.csv", "b.csv", "r1"}, {"a.csv b.csv", "A", "r0"}, {"x/a.csv y/a.csv", "y/a.csv", "r1"}, {"b.csv c.tsv", "c", "r1"},
		{"b.csv a.csv", "", "the archive has several layers: a, b; as in f.zip:a"},
		{"x/a.csv y/a.csv b.csv", "", "the archive has several layers: b, x/a.csv, y/a.csv; as in f.zip:b"},
		{"x/a.csv y/a.csv", "", "the archive has several layers: x/a.csv, y/a.csv; as in f.zip:x/a.csv"},
		{"x/a.csv b.csv", "", "the archive has several layers: a, b; as in f.zip:a"},
		{"a.csv b.csv", "c", `the archive has no layer "c"; it has a, b; as in f.zip:a`},
		{"x/a.csv y/a.csv", "a", "the archive has several layers: x/a.csv, y/a.csv; as in f.zip:x/a.csv"},
		{"readme.md", "", "the archive has no member that can be read; CSV"},
		{"points.gdb/a.gdbtable", "", "the archive holds a file geodatabase, which cannot be read here; GeoPackage"},
	} {
		layer, err := layers.Read(layers.Form{File: "f.zip", Bytes: zipped(t, strings.Fields(c.members)...)}, layers.Asked{Layer: c.layer})
		var wrong *format.UnusableError
		if errors.As(err, &wrong) {
			message, remedy, _ := strings.Cut(c.want, "; as in ")
			if remedy == "" {
				message, remedy, _ = strings.Cut(c.want, "; ")
			}
			if all := fmt.Sprintf("%+v", *wrong); !strings.Contains(all, message) || !strings.Contains(all, remedy) {
				t.Errorf("%s, layer %q: %s, want %s", c.members, c.layer, all, c.want)
			}
			continue
		}
		if got := strings.Join(layer.Column("occurrenceID"), " "); err != nil || got != c.want {
			t.Errorf("%s, layer %q: %q, %v, want %s", c.members, c.layer, got, err, c.want)
		}
	}
}
