package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"driftreach/internal/disk"
)

// extractFeature is a flowline of the published extract, or a piece of network.geojson.
type extractFeature struct {
	Properties map[string]any
	Geometry   struct{ Coordinates [][2]float64 }
}

func features(t *testing.T, path string) []extractFeature {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var c struct{ Features []extractFeature }
	if err := json.Unmarshal(text, &c); err != nil {
		t.Fatal(err)
	}
	return c.Features
}

// extract returns the folder of the published flowlines: NHDPlusV2, U.S. EPA and U.S. Geological
// Survey, 746 lines, with published results to compare with.
func extract(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("DRIFTREACH_DATA")
	if dir == "" {
		dir = filepath.Join(top, "..", "shared", "data")
	}
	path := filepath.Join(dir, "nhdplusv2_new_hope_746.geojson")
	if _, err := os.Stat(path); err != nil {
		t.Skip("the flowline extract is not there: set DRIFTREACH_DATA")
	}
	return path
}

// pageExample writes the settings example of that name from the page on the
// user's own data into dir.
func pageExample(t *testing.T, name, dir string) string {
	t.Helper()
	const page = "reference/your-data.md"
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	_, rest, found := strings.Cut(string(text), "```toml\n# "+name+"\n")
	example, _, closed := strings.Cut(rest, "```")
	if !found || !closed {
		t.Fatalf("%s has no example %s", page, name)
	}
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, []byte(example), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// findsOn writes a survey with a find on the middle vertex of every fiftieth
// line.
func findsOn(t *testing.T, lines []extractFeature, dir string) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("occurrenceID,eventDate,decimalLongitude,decimalLatitude,patch_area_m2,canopy_cover_percent\n")
	for i := 0; i < len(lines); i += 50 {
		c := lines[i].Geometry.Coordinates
		at := c[len(c)/2]
		fmt.Fprintf(&b, "p%d,2026-07-01,%.7f,%.7f,200,80\n", i, at[0], at[1])
	}
	path := filepath.Join(dir, "points.csv")
	if err := os.WriteFile(path, []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// runExtract runs a whole batch on the extract with the README's example unchanged, and returns its
// folder.
func runExtract(t *testing.T, published []extractFeature, streams string) string {
	t.Helper()
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	var stderr bytes.Buffer
	p := &program{ctx: t.Context(), stdout: new(bytes.Buffer), stderr: &stderr, disk: disk.System()}
	code := p.report(p.run([]string{
		"batch", "--points", findsOn(t, published, dir), "--streams", streams, "--quarter", "2026Q3",
		"--settings", pageExample(t, "nhdplus.toml", dir), "--out", out, "--network", "--stage", "both",
	}))
	if code != exitDone {
		t.Fatalf("exit code %d: %s", code, stderr.String())
	}
	return out
}

// TestPageExampleReadsAnExtract: network.geojson carries the published
// StreamOrde of all 746 flowlines, and Pathlength, ArbolateSu and TotDASqKM to
// 0.001. Pathlength counts to the sea, from which the outlet is 333.790 km away;
// river_km is 0 at the outlet.
func TestPageExampleReadsAnExtract(t *testing.T) {
	streams := extract(t)
	published := features(t, streams)
	out := runExtract(t, published, streams)
	answers := map[string]map[string]any{}
	for _, f := range published {
		answers[fmt.Sprintf("%.0f", f.Properties["COMID"])] = f.Properties
	}
	network := features(t, filepath.Join(out, "network.geojson"))
	if len(network) != 746 || len(answers) != 746 {
		t.Fatalf("%d stretches and %d answers, want 746", len(network), len(answers))
	}
	const toTheSea = 333.790
	minor, outlets := 0, 0
	for _, f := range network {
		got, id := f.Properties, f.Properties["stream_id"].(string)
		want := answers[id]
		if got["stream_order"] != want["StreamOrde"] || got["order_used"] != want["StreamOrde"] || nameOf(got["waterBody"]) != nameOf(want["GNIS_NAME"]) {
			t.Errorf("%s: order %v, used %v, name %v; published %v, %v", id, got["stream_order"], got["order_used"], got["waterBody"], want["StreamOrde"], want["GNIS_NAME"])
		}
		for ours, theirs := range map[string]float64{
			"river_km": want["Pathlength"].(float64) - toTheSea, "upstream_km": want["ArbolateSu"].(float64),
			"drainage_km2": want["TotDASqKM"].(float64), "length_km": want["LENGTHKM"].(float64),
		} {
			if v, ok := got[ours].(float64); !ok || math.Abs(v-theirs) > 0.001+1e-9 {
				t.Errorf("%s: %s is %v, published %v", id, ours, got[ours], theirs)
			}
		}
		minor += count01(got["minor_path"] == (want["Divergence"] == 2.0) && got["minor_path"] == true)
		outlets += count01(got["river_km"] == 0.0)
	}
	if want := withDivergence(published, 2); minor != want || outlets != 1 {
		t.Errorf("%d minor paths of %d, %d outlets of 1", minor, want, outlets)
	}
}

// TestExtractHasStandsAndReaches: the finds on the lines become stands in the zone, with a river km
// on their own line, and have a reach. The flood reaches farther, except from stands that already
// reach the outlet at base flow.
func TestExtractHasStandsAndReaches(t *testing.T) {
	streams := extract(t)
	published := features(t, streams)
	out := runExtract(t, published, streams)
	lengths := map[string][2]float64{}
	for _, f := range published {
		low := f.Properties["Pathlength"].(float64) - 333.790
		lengths[fmt.Sprintf("%.0f", f.Properties["COMID"])] = [2]float64{low, low + f.Properties["LENGTHKM"].(float64)}
	}
	stands := table(t, filepath.Join(out, "stands.csv"))
	if len(stands) != 15 {
		t.Errorf("%d stands, placed 15 apart from each other", len(stands))
	}
	for _, s := range stands {
		at := lengths[s["stream_id"]]
		if km := num(t, s, "river_km"); s["aquatic_zone"] != "true" || km < at[0]-0.001 || km > at[1]+0.001 {
			t.Errorf("%s on %s: zone %s, river km %v, line from %v", s["stand_id"], s["stream_id"], s["aquatic_zone"], km, at)
		}
		if reach, flood := num(t, s, "reach_km"), num(t, s, "flood_reach_km"); !(reach > 0 && (flood > reach || flood == reach && reach >= num(t, s, "river_km"))) {
			t.Errorf("%s reaches %v km, in flood %v", s["stand_id"], reach, flood)
		}
	}
}

// nameOf returns a name; blank for the space that the extract uses for none.
func nameOf(property any) string {
	name, _ := property.(string)
	return strings.TrimSpace(name)
}

func count01(b bool) int {
	if b {
		return 1
	}
	return 0
}

func withDivergence(lines []extractFeature, kind float64) int {
	n := 0
	for _, f := range lines {
		n += count01(f.Properties["Divergence"] == kind)
	}
	return n
}
