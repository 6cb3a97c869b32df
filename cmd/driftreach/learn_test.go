package main

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"driftreach/internal/demo"
	"driftreach/internal/folder"
	"driftreach/internal/settings"
	"driftreach/internal/verify/validate"
)

// learnDemo runs learn on the demo's chain, and returns the folder.
func learnDemo(t *testing.T, more ...string) (dir, said string) {
	t.Helper()
	at := demoToRead(t)
	quarters, err := filepath.Glob(filepath.Join(at, "20*"))
	if err != nil || len(quarters) != 8 {
		t.Fatal(err, quarters)
	}
	dir = filepath.Join(t.TempDir(), "learned")
	args := append([]string{"learn"}, quarters...)
	code, said := runProgram(t, append(append(args, "--settings", filepath.Join(at, "programme.toml"), "--second-looks", filepath.Join(at, "inputs", "second-looks.csv"), "--out", dir), more...)...)
	if code != exitDone {
		t.Fatalf("%d: %s", code, said)
	}
	return dir, said
}

// rowsOf reads a table of the folder; each row is a map by column.
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

// In the invented country every new stand roots below a live one. So no new stand is a miss, all of
// them are in stream at risk, and they are too few to estimate a half-distance.
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
	// the values in the country's README: growth by a third a year, a third of the patches resprout
	// at a third of their size, nine in ten are found
	for _, truth := range []struct {
		table, column string
		is            float64
	}{
		{"growth.csv", "yearly_factor", 4. / 3}, {"treatment_effect.csv", "control_held", 1 - 1./9},
		{"found_by_a_look.csv", "found", demo.FindsLarge}, {"risk_came_true.csv", "new_share", 1},
	} {
		rows := rowsOf(t, dir, truth.table)
		row := rows[0]
		if truth.table == "risk_came_true.csv" {
			row = rows[len(rows)-1]
		}
		low, err := strconv.ParseFloat(row[truth.column+"_low"], 64)
		high, wrong := strconv.ParseFloat(row[truth.column+"_high"], 64)
		if err != nil || wrong != nil || truth.is < low || truth.is > high || high-low > 0.4 {
			t.Errorf("%s of %s: %g to %g, in truth %g", truth.column, truth.table, low, high, truth.is)
		}
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
	for _, want := range []string{"Does the map of risk come true?", "Too little data: 14 new stands were counted so far"} {
		if !strings.Contains(string(page), want) || !strings.Contains(said, want) {
			t.Errorf("the page or the closing lines do not say %q:\n%s", want, said)
		}
	}
	if strings.Contains(strings.ToLower(string(page)), "eradicat") {
		t.Error("the page says eradicated")
	}

	// sums over the tables equal the figures they state
	growth := rowsOf(t, dir, "growth.csv")[0]["stand_years"]
	control := rowsOf(t, dir, "treatment_effect.csv")[0]["control"]
	share := rowsOf(t, dir, "risk_came_true.csv")[1]["new_share"]
	told(t, dir, nil, []forged{
		{"a growth", "growth.csv", "," + growth + ",", ",9.5,", "growth.csv", "stand_years: the rows by size add up to"},
		{"a control", "treatment_effect.csv", "," + control + ",", ",0.5,", "treatment_effect.csv", "row 1: control is 0.5"},
		{"a share", "risk_came_true.csv", "," + share + ",", ",0.9,", "risk_came_true.csv", "row 2: new_share is 0.9"},
		{"a number of new stands", folder.ManifestName, `"new_stands_counted": `, `"new_stands_counted": 9`, "risk_came_true.csv", "manifest.json counts 9"},
		{"a hit", "new_stands.csv", ",hit,", ",off the water,", "risk_came_true.csv", "hits and misses"},
		{"a place", "new_stands.csv", ",-128.", ",-928.", "new_stands.csv", "outside -180 to 180"},
		{"a row", folder.ManifestName, `"new_stands": `, `"new_stands": 9`, "new_stands.csv", "counts 9"},
	})

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
	top := demoToRead(t)
	at := func(q string) string { return filepath.Join(top, q) }
	streams := filepath.Join(top, "inputs", "streams.geojson")
	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"no batches":        {[]string{"--out", "x"}, exitUsage, "no batches"},
		"no folder":         {[]string{at("2026Q3")}, exitUsage, "no output folder"},
		"no streams":        {[]string{at("2026Q2"), at("2026Q3"), "--out", filepath.Join(t.TempDir(), "x")}, exitUsage, "no stream centerlines"},
		"a gap":             {[]string{at("2026Q1"), at("2026Q3"), "--streams", streams, "--out", filepath.Join(t.TempDir(), "x")}, exitInput, "continues"},
		"into a batch":      {[]string{at("2026Q2"), at("2026Q3"), "--streams", streams, "--out", at("2026Q3")}, exitOutput, "the batch"},
		"an odd option":     {[]string{at("2026Q2"), "--streams", streams, "--certainty", "2", "--out", "x"}, exitUsage, "certainty"},
		"what is no batch":  {[]string{filepath.Join(top, "inputs"), "--streams", streams, "--out", "x"}, exitInput, "manifest.json"},
		"no second looks":   {[]string{at("2026Q3"), "--streams", streams, "--second-looks", streams, "--out", filepath.Join(t.TempDir(), "x")}, exitInput, "second looks"},
		"streams elsewhere": {[]string{at("2026Q3"), "--streams", filepath.Join(top, "none"), "--out", "x"}, exitInput, "none"},
	} {
		code, said := runProgram(t, append([]string{"learn"}, c.args...)...)
		if code != c.code || !strings.Contains(said, c.says) {
			t.Errorf("%s: %d: %s", name, code, said)
		}
	}
}
