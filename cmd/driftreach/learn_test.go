package main

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"driftreach/internal/folder"
	"driftreach/internal/settings"
	"driftreach/internal/verify/validate"
)

// learnDemo asks the demo's chain, and returns the folder.
func learnDemo(t *testing.T, more ...string) (dir, said string) {
	t.Helper()
	demo := demoToRead(t)
	quarters, err := filepath.Glob(filepath.Join(demo, "20*"))
	if err != nil || len(quarters) != 8 {
		t.Fatal(err, quarters)
	}
	dir = filepath.Join(t.TempDir(), "learned")
	args := append([]string{"learn"}, quarters...)
	code, said := runProgram(t, append(append(args, "--settings", filepath.Join(demo, "programme.toml"), "--out", dir), more...)...)
	if code != exitDone {
		t.Fatalf("%d: %s", code, said)
	}
	return dir, said
}

// rowsOf reads a table of the folder, a map of its columns a row.
func rowsOf(t *testing.T, dir, name string) []map[string]string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	if report := validate.CSV(text); !report.OK() {
		t.Errorf("%s: %v", name, report.Problems)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		one := map[string]string{}
		for k, name := range rows[0] {
			one[name] = row[k]
		}
		out = append(out, one)
	}
	return out
}

// In the invented country every new stand roots below a live one and nowhere else: none
// is a miss, all stream at risk has all of them, and the few there are tell no half-distance.
func TestLearnFromTheDemo(t *testing.T) {
	dir, said := learnDemo(t)
	kinds := map[string]int{}
	for _, row := range rowsOf(t, dir, "new_stands.csv") {
		kinds[row["counts_as"]]++
	}
	if kinds["hit"] < 10 || kinds["miss"] != 0 {
		t.Errorf("new stands: %v", kinds)
	}
	classes := rowsOf(t, dir, "risk_came_true.csv")
	if last := classes[len(classes)-1]; last["exposure_class"] != "at risk" || last["new_share"] != "1" {
		t.Errorf("at risk: %v", last)
	}
	adopt, err := os.ReadFile(filepath.Join(dir, adoptFile))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := settings.Read(strings.NewReader(string(adopt)), adoptFile, settings.Default()); err != nil {
		t.Errorf("%s is no settings file: %v", adoptFile, err)
	}
	page, err := os.ReadFile(filepath.Join(dir, folder.LearnedFile))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Does the map of risk come true?", "Too little data: 15 new stands were counted so far"} {
		if !strings.Contains(string(page), want) || !strings.Contains(said, want) {
			t.Errorf("the page or the closing lines do not say %q:\n%s", want, said)
		}
	}
	if strings.Contains(strings.ToLower(string(page)), "eradicat") {
		t.Error("the page says eradicated")
	}

	again, _ := learnDemo(t, "--workers", "1")
	for _, name := range []string{folder.LearnedFile, adoptFile, "half_distance.csv", "new_stands.csv", folder.ManifestName} {
		one, _ := os.ReadFile(filepath.Join(dir, name))
		other, _ := os.ReadFile(filepath.Join(again, name))
		if string(one) != string(other) {
			t.Errorf("%s differs for one worker", name)
		}
	}
}

func TestWhatLearnRefuses(t *testing.T) {
	demo := demoToRead(t)
	at := func(q string) string { return filepath.Join(demo, q) }
	streams := filepath.Join(demo, "inputs", "streams.geojson")
	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"no batches":        {[]string{"--out", "x"}, exitUsage, "no batches"},
		"no folder":         {[]string{at("2026Q3")}, exitUsage, "no output folder"},
		"no streams":        {[]string{at("2026Q2"), at("2026Q3"), "--out", filepath.Join(t.TempDir(), "x")}, exitUsage, "no stream centerlines"},
		"a gap":             {[]string{at("2026Q1"), at("2026Q3"), "--streams", streams, "--out", filepath.Join(t.TempDir(), "x")}, exitInput, "goes on from"},
		"into a batch":      {[]string{at("2026Q2"), at("2026Q3"), "--streams", streams, "--out", at("2026Q3")}, exitOutput, "the batch"},
		"an odd option":     {[]string{at("2026Q2"), "--streams", streams, "--certainty", "2", "--out", "x"}, exitUsage, "certainty"},
		"what is no batch":  {[]string{filepath.Join(demo, "inputs"), "--streams", streams, "--out", "x"}, exitInput, "manifest.json"},
		"streams elsewhere": {[]string{at("2026Q3"), "--streams", filepath.Join(demo, "none"), "--out", "x"}, exitInput, "none"},
	} {
		code, said := runProgram(t, append([]string{"learn"}, c.args...)...)
		if code != c.code || !strings.Contains(said, c.says) {
			t.Errorf("%s: %d: %s", name, code, said)
		}
	}
}
