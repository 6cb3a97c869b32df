package mapfile_test

import (
	"archive/zip"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"driftreach/internal/testkit"
	"driftreach/internal/testkit/quarter"
)

// TestKeptLayers: the layers, calendar, charts and map of a quarter with every kind of input stay as they
// are. The map was opened in a browser; the layers were not read one by one: the checks of package verify
// hold their forms and sums.
func TestKeptLayers(t *testing.T) {
	dir, _, _, _ := quarter.DeliverEverything(t)
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	kept := 0
	for _, e := range entries {
		switch filepath.Ext(e.Name()) {
		case ".geojson", ".ics", ".svg":
			text, err := os.ReadFile(filepath.Join(dir, e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			testkit.Kept(t, e.Name(), text)
			kept++
		}
	}
	if kept < 12 {
		t.Errorf("%d layers", kept)
	}
	z, err := zip.OpenReader(filepath.Join(dir, "map.kmz"))
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	for _, f := range z.File {
		if !strings.HasSuffix(f.Name, ".kml") {
			continue
		}
		file, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(file)
		if err != nil {
			t.Fatal(err)
		}
		testkit.Kept(t, filepath.Base(f.Name), text)
	}
}
