package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/disk"
)

// basin writes the points and streams of a basin whose lowest point is at a longitude: two brooks that
// meet in a river, with finds scattered along them by a seed. It returns rows of points and features
// of streams.
func basin(name string, lon float64, seed uint64) (points, streams string) {
	rng := rand.New(rand.NewPCG(seed, 5))
	var p, s []string
	for i, line := range [][2][2]float64{{{0, 0}, {0, -0.02}}, {{-0.01, 0.02}, {0, 0}}, {{0.01, 0.02}, {0, 0}}} {
		from, to := line[0], line[1]
		s = append(s, fmt.Sprintf(`{"type":"Feature","properties":{"stream_id":"%s%d","waterBody":"%s %d"},"geometry":{"type":"LineString","coordinates":[[%.7f,%.7f],[%.7f,%.7f]]}}`,
			name, i, name, i, lon+from[0], -33+from[1], lon+to[0], -33+to[1]))
		for k := range 12 {
			u, off := rng.Float64(), 6e-4*(2*rng.Float64()-1)
			p = append(p, fmt.Sprintf("%s%d-%02d,2026-07-%02d,%.7f,%.7f,%.1f,%d\n", name, i, k, 1+rng.IntN(28),
				lon+from[0]+u*(to[0]-from[0])+off, -33+from[1]+u*(to[1]-from[1]), 1+200*rng.Float64(), 10*rng.IntN(11)))
		}
	}
	return strings.Join(p, ""), strings.Join(s, ",")
}

// batchOfBasins runs a batch of basins and returns its folder.
func batchOfBasins(t *testing.T, points, streams string) string {
	t.Helper()
	dir := t.TempDir()
	line := []string{"batch", "--quarter", "2026Q3", "--out", filepath.Join(dir, "out")}
	for flag, text := range map[string]string{
		"points.csv":      "occurrenceID,eventDate,decimalLongitude,decimalLatitude,patch_area_m2,canopy_cover_percent\n" + points,
		"streams.geojson": `{"type":"FeatureCollection","features":[` + streams + `]}`,
	} {
		path := filepath.Join(dir, flag)
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		line = append(line, "--"+strings.TrimSuffix(flag, filepath.Ext(flag)), path)
	}
	var stderr bytes.Buffer
	p := &program{ctx: t.Context(), stdout: new(bytes.Buffer), stderr: &stderr, disk: disk.System()}
	if code := p.report(p.run(line)); code != exitDone {
		t.Fatalf("exit code %d: %s", code, stderr.String())
	}
	return filepath.Join(dir, "out")
}

// rowsWithout returns the rows of a table, sorted, without some columns.
func rowsWithout(t *testing.T, path string, columns ...string) []string {
	t.Helper()
	var all []string
	for _, row := range table(t, path) {
		var cells []string
		for name, value := range row { // sorted below
			if !slices.Contains(columns, name) {
				cells = append(cells, name+"="+value)
			}
		}
		slices.Sort(cells)
		all = append(all, strings.Join(cells, ","))
	}
	slices.Sort(all)
	return all
}

// shapesOf returns shapes and properties of the features of a layer, sorted.
func shapesOf(t *testing.T, path string) []string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var layer struct {
		Features []struct{ Geometry, Properties json.RawMessage }
	}
	if err := json.Unmarshal(text, &layer); err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, f := range layer.Features {
		all = append(all, string(f.Geometry)+string(f.Properties))
	}
	slices.Sort(all)
	return all
}

// TestBasinsApartAreThoseTogether: the way to run a country that no machine holds. Two basins that no
// water joins, each in a batch of its own, have the stands, reaches and zone of one batch of both, in
// all but the running numbers and the treatment order.
func TestBasinsApartAreThoseTogether(t *testing.T) {
	west, westStreams := basin("w", -40, 1)
	east, eastStreams := basin("e", -37, 2)
	both := batchOfBasins(t, west+east, westStreams+","+eastStreams)
	apart := []string{batchOfBasins(t, west, westStreams), batchOfBasins(t, east, eastStreams)}
	for name, ours := range map[string][]string{
		"stands.csv":  {"stand_id", "treat_order", "follow_up"},
		"reaches.csv": {"nearest_stand_id"},
	} {
		want := rowsWithout(t, filepath.Join(both, name), ours...)
		got := slices.Concat(rowsWithout(t, filepath.Join(apart[0], name), ours...), rowsWithout(t, filepath.Join(apart[1], name), ours...))
		slices.Sort(got)
		if len(want) < 8 {
			t.Errorf("%s has only %d rows", name, len(want))
		}
		if !slices.Equal(want, got) {
			t.Errorf("%s\ntogether: %s\napart: %s", name, strings.Join(want, "\n"), strings.Join(got, "\n"))
		}
	}
	const zone = "aquatic_zone.geojson"
	got := slices.Concat(shapesOf(t, filepath.Join(apart[0], zone)), shapesOf(t, filepath.Join(apart[1], zone)))
	slices.Sort(got)
	if want := shapesOf(t, filepath.Join(both, zone)); len(want) != 6 || !slices.Equal(want, got) {
		t.Errorf("%s\ntogether: %s\napart: %s", zone, strings.Join(want, "\n"), strings.Join(got, "\n"))
	}
}
