package main

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/disk"
)

var updateHandedIn = flag.Bool("update-handed-in", false, "write what comes of the files in testdata/handed-in")

// handedIn is a case of testdata/handed-in/cases.tsv: the same nine finds and three absences, 3.275
// acres, written as various programs and people write them.
type handedIn struct {
	files, flags []string
	exit         int
	acres        string   // of a batch with the unchanged files
	byHand       []string // settings that only a person can know
	asProposed   float64  // acres of a batch with check's own proposal
}

// TestHandedIn checks the result for every file. It also checks the rule for check's proposed
// settings: they never lose a field that was understood, and never add findings about it. The acres
// are those of the plants, added up by hand: 0.5, 0.25, 0.125, 1, 0.05, 0.1, 0.75, 0.2 and 0.3;
// without a patch area nine times 0.1.
func TestHandedIn(t *testing.T) {
	cases := handedInCases(t)
	if len(cases) < 30 {
		t.Errorf("%d cases", len(cases))
	}
	for _, c := range cases {
		t.Run(c.files[0], func(t *testing.T) { c.run(t) })
	}
}

const handedInFolder = "../../testdata/handed-in"

func handedInCases(t *testing.T) []handedIn {
	text, err := os.ReadFile(filepath.Join(handedInFolder, "cases.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	var cases []handedIn
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n")[1:] {
		cells := strings.Split(line, "\t")
		c := handedIn{files: strings.Fields(cells[0]), flags: strings.Fields(cells[1]), acres: cells[3], byHand: strings.Fields(cells[4])}
		c.exit, _ = strconv.Atoi(cells[2])
		c.asProposed, _ = strconv.ParseFloat(cells[5], 64)
		cases = append(cases, c)
	}
	return cases
}

func (c handedIn) run(t *testing.T) {
	dir := t.TempDir()
	before := c.check(t, dir)
	settings := filepath.Join(dir, "proposed.toml")
	if err := os.WriteFile(settings, []byte(before.proposed), 0o600); err != nil {
		t.Fatal(err)
	}
	more := []string{"--settings", settings}
	for _, s := range c.byHand {
		more = append(more, "--set", s)
	}
	after := c.check(t, dir, more...)
	law(t, before, after)
	if after.exit != 0 || after.proposed != "" {
		t.Errorf("with the proposal check ends with %d and proposes\n%s", after.exit, after.proposed)
	}
	if exit, acres := c.batch(t, dir); exit != c.exit || exit == 0 && fmt.Sprint(acres) != c.acres {
		t.Errorf("as it is: exit %d, %v acres, want %d, %s", exit, acres, c.exit, c.acres)
	}
	// feet and metres in the files are rounded: a patch is within 1e-4 of its area
	if exit, acres := c.batch(t, dir, more...); exit != 0 || math.Abs(acres-c.asProposed) > 0.001 {
		t.Errorf("as proposed: exit %d, %v acres, want %v", exit, acres, c.asProposed)
	}
	golden := filepath.Join(handedInFolder, "expected", strings.ReplaceAll(c.files[0], ":", "_")+".txt")
	got := "as it is\n" + before.String() + "\nproposed\n" + before.proposed + "\nas proposed\n" + after.String()
	if *updateHandedIn {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("what comes of it (-want +got; -update-handed-in writes it):\n%s", diff)
	}
}

// checked is the output of check for a case.
type checked struct {
	exit     int
	fields   map[string]int // by field: number of records with a value
	rows     []string
	findings map[string]int // by "field code severity"
	proposed string
}

func (c checked) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "  exit %d\n", c.exit)
	for _, row := range c.rows {
		fmt.Fprintf(&b, "  %s\n", row)
	}
	for _, code := range slices.Sorted(maps.Keys(c.findings)) {
		fmt.Fprintf(&b, "  finding %s: %d\n", code, c.findings[code])
	}
	return b.String()
}

// law: every field understood before is still understood, without more findings.
func law(t *testing.T, before, after checked) {
	for field, filled := range before.fields {
		if after.fields[field] < filled {
			t.Errorf("the proposal loses %s: filled in %d records, in %d before", field, after.fields[field], filled)
		}
	}
	for key, n := range after.findings {
		field, _, _ := strings.Cut(key, " ")
		_, known := before.fields[field]
		if severe := !strings.HasSuffix(key, " note"); severe && known && n > before.findings[key] {
			t.Errorf("the proposal raises %s from %d to %d", key, before.findings[key], n)
		}
	}
}

var gaps = regexp.MustCompile(`  +`)

func (c handedIn) check(t *testing.T, dir string, more ...string) checked {
	findings := filepath.Join(dir, "findings.csv")
	out, exit := c.command(t, append([]string{"check", "--findings", findings}, more...))
	got := checked{exit: exit, fields: map[string]int{}, findings: map[string]int{}}
	table, proposed := false, false
	for line := range strings.Lines(out) {
		line = strings.TrimRight(line, "\n")
		switch {
		case strings.HasPrefix(line, "  column "):
			table = true
		case strings.HasPrefix(line, "proposed settings"):
			proposed = true
		case strings.HasPrefix(line, "findings:"):
			proposed = false
		case proposed && line != "":
			got.proposed += strings.TrimPrefix(line, "  ") + "\n"
		case line == "":
			table = false
		case table:
			cells := gaps.Split(strings.TrimSpace(line), 4)
			if filled, err := strconv.Atoi(cells[2]); err == nil && cells[1] != "(carried)" {
				got.fields[cells[1]] += filled
			}
			got.rows = append(got.rows, strings.Join(cells[:3], " | "))
		}
	}
	text, err := os.ReadFile(findings)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := func(name string) int { return slices.Index(rows[0], name) }
	for _, row := range rows[1:] {
		got.findings[row[at("field")]+" "+row[at("code")]+" "+row[at("severity")]]++
	}
	return got
}

// batch runs the case and returns the infested acres of its stands.
func (c handedIn) batch(t *testing.T, dir string, more ...string) (exit int, acres float64) {
	out := filepath.Join(dir, "out")
	args := []string{"batch", "--streams", filepath.Join(handedInFolder, "streams.geojson"), "--out", out, "--set", "drift.draws=0"}
	if _, exit = c.command(t, append(args, more...)); exit != 0 {
		return exit, 0
	}
	text, err := os.ReadFile(filepath.Join(out, "stands.csv"))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := slices.Index(rows[0], "infested_acres")
	for _, row := range rows[1:] {
		v, err := strconv.ParseFloat(row[at], 64)
		if err != nil {
			t.Fatal(err)
		}
		acres += v
	}
	return 0, math.Round(acres*1e4) / 1e4
}

// command runs the program on the case's files and returns its output and exit code.
func (c handedIn) command(t *testing.T, args []string) (string, int) {
	t.Helper()
	args = append(append(args, "--quarter", "2026Q3"), c.flags...)
	for _, file := range c.files {
		args = append(args, "--points", filepath.Join(handedInFolder, file))
	}
	var out, told bytes.Buffer
	p := &program{ctx: t.Context(), stdout: &out, stderr: &told, disk: disk.System()}
	exit := p.report(p.run(args))
	return out.String(), exit
}

// TestHandedInStreams: an agency's column names, and a width with its unit in the cell, are
// proposed and read accordingly; 40 ft is 12.192 m.
func TestHandedInStreams(t *testing.T) {
	streams := filepath.Join(handedInFolder, "agency_streams.geojson")
	check := func(more ...string) string {
		var out, told bytes.Buffer
		p := &program{ctx: t.Context(), stdout: &out, stderr: &told, disk: disk.System()}
		if exit := p.report(p.run(append([]string{"check", "--streams", streams}, more...))); exit != 0 {
			t.Errorf("exit %d: %s", exit, told.String())
		}
		return out.String()
	}
	first := check()
	var more []string
	for field, column := range map[string]string{"stream_id": "Permanent_ID", "waterBody": "GNIS", "stream_order": "StrOrder", "bankfull_width_m": "BFW_ft"} {
		if !strings.Contains(first, fmt.Sprintf("  %s = %q", field, column)) {
			t.Errorf("%s is not proposed:\n%s", field, first)
		}
		more = append(more, "--set", "columns.streams."+field+"="+column)
	}
	if !strings.Contains(first, `  bankfull_width_m = "ft"`) {
		t.Errorf("feet are not proposed:\n%s", first)
	}
	second := check(append(more, "--set", "units.streams.bankfull_width_m=ft")...)
	for _, want := range []string{`BFW_ft +bankfull_width_m +2 +12.192`, `bankfull width: 1 of 3 lines without one, 1.46 of 8.11 km`} {
		if !regexp.MustCompile(want).MatchString(second) {
			t.Errorf("no %s in\n%s", want, second)
		}
	}
}
