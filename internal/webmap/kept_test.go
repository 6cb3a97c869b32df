package webmap_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"driftreach/internal/testkit"
	"driftreach/internal/testkit/quarter"
)

// TestKeptMap: the data of the map of a quarter with every kind of input: streams, zone, reaches, stands
// with their cards and rules, stands of before and gone, points, works and the plan in turn. The map was
// looked at in a browser (Chromium) beside the page and the tables of the same folder, 2026-11-28.
func TestKeptMap(t *testing.T) {
	dir, _, _, _ := quarter.DeliverEverything(t)
	page, err := os.ReadFile(filepath.Join(dir, "map.html"))
	if err != nil {
		t.Fatal(err)
	}
	_, data, found := bytes.Cut(page, []byte(`type="application/json" id="data">`))
	data, _, ends := bytes.Cut(data, []byte("</script>"))
	if !found || !ends {
		t.Fatal("no data in the page")
	}
	testkit.Kept(t, "map.json", bytes.ReplaceAll(data, []byte("},{"), []byte("},\n{")))
}
