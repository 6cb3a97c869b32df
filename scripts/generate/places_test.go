package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"driftreach/internal/batch"
	"driftreach/internal/folder"
	"driftreach/internal/format"
	"driftreach/internal/host"
	"driftreach/internal/observed"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// TestPlacesToGoOfRegions: of regions in which a square about every fifth point was
// treated after the survey, every place to go to lies inside its stand, or the part of
// it, as both are written.
func TestPlacesToGoOfRegions(t *testing.T) {
	if testing.Short() {
		t.Skip("runs two batches")
	}
	var all testkit.Places
	for seed := range uint64(2) {
		dir := t.TempDir()
		if err := run(1000, 30, dir, seed+1, "plain"); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "treated.geojson"), squares(t, filepath.Join(dir, "points.csv")), 0o666); err != nil {
			t.Fatal(err)
		}
		p, err := testkit.PlacesToGo(batchOf(t, dir))
		if err != nil {
			t.Error(err)
		}
		all.Add(p)
	}
	t.Logf("%+v", all)
	if all.Stands < 60 || all.Parts < 60 || all.Events < 40 {
		t.Errorf("too few to tell: %+v", all)
	}
}

// squares are treated areas of some 22 m, one with its corner 3 m off every fifth
// point.
func squares(t *testing.T, points string) []byte {
	t.Helper()
	text, err := os.ReadFile(points)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var at [2]int
	for k, name := range rows[0] {
		switch name {
		case "decimalLongitude":
			at[0] = k
		case "decimalLatitude":
			at[1] = k
		}
	}
	var b bytes.Buffer
	b.WriteString(`{"type":"FeatureCollection","features":[`)
	for i := 1; i < len(rows); i += 5 {
		var x, y float64
		if _, err := fmt.Sscan(rows[i][at[0]]+" "+rows[i][at[1]], &x, &y); err != nil {
			t.Fatal(err)
		}
		x, y = x-3e-5, y-3e-5
		const side = 2e-4
		if i > 1 {
			b.WriteString(",")
		}
		fmt.Fprintf(&b, "\n"+`{"type":"Feature","properties":{"date":"2026-09-29","method":"foliar spray"},"geometry":{"type":"Polygon","coordinates":[[[%.7f,%.7f],[%.7f,%.7f],[%.7f,%.7f],[%.7f,%.7f],[%.7f,%.7f]]]}}`,
			x, y, x+side, y, x+side, y+side, x, y+side, x, y)
	}
	b.WriteString("\n]}\n")
	return b.Bytes()
}

// batchOf computes a region and writes its folder.
func batchOf(t *testing.T, dir string) string {
	t.Helper()
	source := func(name string) []format.Source {
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		return []format.Source{testkit.Source(name, bytes.NewReader(text))}
	}
	ctx, s, host := context.Background(), settings.Default(), host.Host{}
	s.Drift.Draws = 0
	in, err := observed.Read(ctx, observed.Inputs{Of: map[string]observed.Files{"points": {Sources: source("points.csv")}, "streams": {Sources: source("streams.geojson")}, "treatments": {Sources: source("treated.geojson")}}, Quarter: survey.Quarter{Year: 2026, Number: 3}}, s, host)
	if err != nil {
		t.Fatal(err)
	}
	if in, err = batch.Begin(in, s); err != nil {
		t.Fatal(err)
	}
	now, err := batch.Compute(ctx, in, s, host)
	if err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "out")
	err = folder.Make(ctx, folder.Out{Dir: out}, func(f *folder.Folder) error {
		return batch.Delivery{Version: "test", Settings: s, Inputs: in.Files}.Deliver(f, now, host)
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
