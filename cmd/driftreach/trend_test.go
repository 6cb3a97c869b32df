package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/disk"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
	"driftreach/internal/verify/validate"
)

// finished writes a batch folder of the given quarter with a total of the given
// acres, and returns it.
func finished(t *testing.T, quarter, acres string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), quarter)
	summary := "scope,name,unit_id,quarter,gross_acres,infested_acres,canopy_acres,zone_acres,treated_stands_acres,standing_dead_acres,reach_at_risk_km,previous_acres,observed_change_acres,new_acres,not_detected_acres,cleared_acres,carried_acres\r\ntotal,,," + quarter + strings.Repeat(","+acres, 7) + ",,,,,,\r\n"
	manifest := fmt.Sprintf(`{"program": "driftreach", "version": %q, "quarter": %q, "settings": {"trend": {"serial_correlation": 0}}, "outputs": [{"name": "summary.csv", "sha256": "%x", "bytes": %d}]}`,
		version, quarter, sha256.Sum256([]byte(summary)), len(summary))
	for name, text := range map[string]string{summaryFile: summary, folder.ManifestName: manifest} {
		if err := os.MkdirAll(dir, 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// runProgram runs the program as main does.
func runProgram(t *testing.T, args ...string) (code int, stderr string) {
	t.Helper()
	var out bytes.Buffer
	p := &program{ctx: t.Context(), stdout: &out, stderr: &out, disk: disk.System()}
	code = p.report(p.run(args))
	return code, out.String()
}

// The worked example as twenty folders (S -35, p 2.72007e-05, slope -0.558333):
// what the user gets, from end to end.
func TestWorkedExampleFromFolders(t *testing.T) {
	args := []string{"trend"}
	for season, acres := range []string{"12.0 11.5 11.8 10.2 9.8", "14.5 14.0 13.1 12.6 12.0", "16.0 15.2 15.2 14.1 13.5", "13.0 12.8 12.1 11.9 12.0"} {
		for year, v := range strings.Fields(acres) {
			args = append(args, finished(t, fmt.Sprintf("%dQ%d", 2021+year, season+1), v))
		}
	}
	out := filepath.Join(t.TempDir(), "trend")
	code, said := runProgram(t, append(args, "--unchained", "--out", out)...)
	if code != exitDone || !strings.Contains(said, "2021Q1 to 2025Q4: 20 batches, none missing") {
		t.Fatalf("%d: %s", code, said)
	}
	text, err := os.ReadFile(filepath.Join(out, trendFile))
	if err != nil {
		t.Fatal(err)
	}
	const want = "total,,,gross_acres,acres,2021Q1,2025Q4,20,0,12,12,12,12,-0.558333,Seasonal Kendall,false,40,0,-35,65.666667,-4.195719,-0.875,0.0000272,"
	if !strings.Contains(string(text), want) {
		t.Errorf("no row %q in\n%s", want, text)
	}
	for _, name := range []string{trendFile, seriesFile} {
		data, _ := os.ReadFile(filepath.Join(out, name))
		if report := validate.CSV(data); !report.OK() {
			t.Errorf("%s: %v", name, report.Problems)
		}
	}
}

func TestQuartersMoreThanACenturyApart(t *testing.T) {
	out := filepath.Join(t.TempDir(), "trend")
	code, said := runProgram(t, "trend", finished(t, "1026Q3", "1"), finished(t, "2026Q3", "1"), "--unchained", "--out", out)
	if code != exitInput || !strings.Contains(said, "1026Q3 and 2026Q3 are 4000 quarters apart") {
		t.Errorf("%d: %s", code, said)
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("something was written")
	}
}

// A summary that is as its manifest says, and yet none of ours.
func TestSummaryThatIsNoneOfOurs(t *testing.T) {
	code, said := runProgram(t, "trend", finished(t, "2026Q3", "many"), "--out", filepath.Join(t.TempDir(), "trend"))
	if code != exitInput || !strings.Contains(said, `summary.csv: line 2: infested_acres: "many"`) {
		t.Errorf("%d: %s", code, said)
	}
}

func TestDifferencesBetweenBatches(t *testing.T) {
	one := func(quarter int, setback, stage any, streams ...string) readBatch {
		return readBatch{
			maker:    mapfile.Maker{Program: folder.Program, Version: version, Format: mapfile.Format},
			summary:  trend.Batch{Quarter: survey.Quarter{Year: 2026, Number: int8(quarter)}},
			settings: map[string]any{"aquatic": map[string]any{"setback_m": setback}, "drift": map[string]any{"stage": stage, "pass": map[string]any{"dam": 0.3}}, "columns": map[string]any{"points": quarter}},
			water:    earlier.WaterSums{Content: map[string]string{"streams": streams[0]}},
		}
	}
	by := func(b readBatch, version string, format int) readBatch {
		b.maker.Version, b.maker.Format = version, format
		return b
	}
	resting := func(quarter int, share float64) readBatch {
		b := one(quarter, 30.0, "base", "a")
		b.summary.DefaultShare = share
		return b
	}
	for _, c := range []struct {
		name    string
		batches []readBatch
		want    []string
	}{
		{"other makers, each told once", []readBatch{
			by(one(1, 30.0, "base", "a"), "0.0.8", 1), by(one(2, 30.0, "base", "a"), "0.0.8", 1), by(one(3, 30.0, "base", "a"), "0.0.9", 2), one(4, 30.0, "base", "a"),
		}, []string{
			`2026Q1, 2026Q2 of driftreach 0.0.8, format 1, and this is ` + version + `, format 3: figures may be made otherwise there (CHANGELOG.md, "Changes to numbers"); ` +
				`format 1 keeps no looked-at ground, and what is not carried there is taken as seen; run those quarters again to compare all alike`,
			`2026Q3 of driftreach 0.0.9, format 2, and this is ` + version + `, format 3: figures may be made otherwise there (CHANGELOG.md, "Changes to numbers"); run those quarters again to compare all alike`,
		}},
		{"one", []readBatch{one(1, 30.0, "base", "a")}, nil},
		{"the same but for column names", []readBatch{one(1, 30.0, "base", "a"), one(2, 30.0, "base", "a")}, nil},
		{"two settings, told once", []readBatch{one(1, 30.0, "base", "a"), one(2, 50.0, "flood", "a"), one(3, 50.0, "base", "a")},
			[]string{"the batches were made with different settings: aquatic.setback_m, drift.stage; in a chain acres are restated, and reach breaks there"}},
		{"defaults", []readBatch{resting(1, 1), resting(2, math.NaN()), resting(3, 0.125), resting(4, 0.3)},
			[]string{"the infested acres rest on the default patch, which nobody measured, to another extent: 100 % in 2026Q1 and 12 % in 2026Q3; so not all change between these quarters is growth or loss of plants"}},
		{"defaults, less than a fifth apart", []readBatch{resting(1, 0.5), resting(2, 0.69), resting(3, 0.5)}, nil},
		{"streams", []readBatch{one(1, 30.0, "base", "a"), one(2, 30.0, "base", "b"), one(3, 30.0, "base", "c")},
			[]string{"the streams of 2026Q1 and 2026Q2 differ: zones are compared by the streams of each quarter, and reach is not compared"}},
	} {
		if d := cmp.Diff(c.want, differences(c.batches)); d != "" {
			t.Errorf("%s: %s", c.name, d)
		}
	}
	got := settings.Apart(map[string]any{"a": 1.0, "c": "x"}, map[string]any{"b": 1.0, "c": "x"})
	slices.Sort(got)
	if d := cmp.Diff([]string{"a", "b"}, got); d != "" {
		t.Error(d)
	}
}

func TestWhereATrendMayLie(t *testing.T) {
	top := t.TempDir()
	for _, name := range []string{"batches/a", "trend", "other", "empty"} {
		if err := os.MkdirAll(filepath.Join(top, name), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"trend/manifest.json", "trend/trend.csv", "other/manifest.json"} {
		if err := os.WriteFile(filepath.Join(top, name), nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink(filepath.Join(top, "batches"), filepath.Join(top, "link")); err != nil {
		t.Skip("no links here")
	}
	for out, may := range map[string]bool{
		"new": true, "new/deep": true, "empty": true, "trend": true, "batches/b": true, "batches/ab": true, "batches/..c": true,
		"batches/a": false, "batches/a/in": false, "batches": false, ".": false, "link/a": false, "link/a/in": false, "link": false, "other": false,
	} {
		if err := (&program{disk: disk.System()}).mayHoldTrend(filepath.Join(top, out), []string{filepath.Join(top, "batches", "a")}); (err == nil) != may {
			t.Errorf("%s: %v", out, err)
		}
	}
}
