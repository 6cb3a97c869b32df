package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/disk"
	"driftreach/internal/disk/faulty"
	"driftreach/internal/folder"
)

// longVariable is the environment variable that, set to 1, runs in full the tests of which an
// ordinary run takes a sample. scripts/test --long sets it.
const longVariable = "DRIFTREACH_LONG"

// faultCase is a command run on a disk on which one operation after another fails.
type faultCase struct {
	name  string
	args  []string // with OUT in place of the output folder
	first []string // the run that made the existing folder; nil for none
	tries int      // number of operations that the ordinary run samples; 0 for all
	long  int      // the same for the long run; 0 for all
}

// Every disk operation of whole commands fails once, or is the last before a kill. The folder stays
// wholly old or becomes wholly new, exit code and message are right, and the next run succeeds and
// leaves nothing else.
func TestEveryOperationOfACommandFailsOnce(t *testing.T) {
	top := t.TempDir()
	in := faultInputs(t, top)
	last := filepath.Join(top, "2026Q2")
	batchOf := func(quarter, out string, more ...string) []string {
		return append([]string{"batch", "--points", in + "/points-" + quarter + ".csv", "--streams", in + "/streams.geojson", "--settings", in + "/settings.toml",
			"--workers", "1", "--quarter", quarter, "--out", out}, more...)
	}
	mustRun(t, batchOf("2026Q2", last)...)
	parts, results := filepath.Join(top, "parts"), filepath.Join(top, "results")
	split := func(out string) []string {
		return append([]string{"split", "--parts", "2"}, batchOf("2026Q2", out)[1:]...)
	}
	mustRun(t, split(parts)...)
	for _, name := range []string{"0001", "0002"} {
		mustRun(t, "batch", "--part", filepath.Join(parts, name), "--out", filepath.Join(results, name))
	}
	inTurn := batchOf("2026Q2", "OUT", "--memory", "100MB")
	inTurn[slices.Index(inTurn, "--streams")+1] = padded(t, in+"/streams.geojson", 100e6/usualNeed+1)
	cases := []faultCase{
		{"batch", batchOf("2026Q2", "OUT"), nil, 10, 0},
		{"batch replacing", batchOf("2026Q3", "OUT", "--previous", last, "--set", "aquatic.setback_m=45"), batchOf("2026Q3", "OUT", "--previous", last), 12, 0},
		{"split", split("OUT"), nil, 0, 0},
		{"merge", []string{"merge", results, "--workers", "1", "--out", "OUT"}, nil, 12, 0},
		{"batch by parts in turn", inTurn, nil, 16, 0},
		{"trend", []string{"trend", last, "--out", "OUT"}, nil, 12, 0},
		{"check", []string{"check", "--points", in + "/points-2026Q2.csv", "--findings", "OUT"}, nil, 0, 0},
		{"demo", []string{"demo", "--out", "OUT", "--workers", "2"}, nil, 1, 40},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if os.Getenv(longVariable) != "1" && c.tries == 1 {
				t.Skipf("runs the demo a hundred times; %s=1 asks for it", longVariable)
			}
			c.run(t)
		})
	}
}

// padded returns a copy of a file that is made so large with blanks at its end.
func padded(t *testing.T, path string, bytes int) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	wide := path + ".wide.geojson"
	if err := os.WriteFile(wide, append(text, slices.Repeat([]byte{' '}, bytes-len(text))...), 0o666); err != nil {
		t.Fatal(err)
	}
	return wide
}

func (c faultCase) run(t *testing.T) {
	whole := c.truth(t, c.args)
	var old map[string]string
	if c.first != nil {
		old = c.truth(t, c.first)
	}
	counter := faulty.New(disk.System(), faulty.Plan{At: -1})
	out := filepath.Join(t.TempDir(), "out")
	if c.first != nil {
		mustRun(t, to(c.first, out)...)
	}
	if code, said := c.on(t, counter, out); code > exitFindings {
		t.Fatalf("%d: %s", code, said)
	}
	total := counter.Operations()
	tries := c.tries
	if os.Getenv(longVariable) == "1" {
		tries = c.long
	}
	step := 1
	if tries > 0 {
		step = max(1, total/tries)
	}
	modes := []faulty.Plan{{}, {Dead: true}, {Dead: true, NoExchange: true}}
	tried := 0
	for m, mode := range modes {
		if mode.NoExchange && c.first == nil {
			continue
		}
		for n := m * step / len(modes); n < total; n += step {
			mode.At = n
			c.try(t, mode, old, whole)
			tried++
		}
	}
	t.Logf("%d operations, %d tries", total, tried)
}

// truth returns the folder or file as a run on a sound disk makes it.
func (c faultCase) truth(t *testing.T, args []string) map[string]string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "out")
	mustRun(t, to(args, out)...)
	return textsUnder(t, out)
}

func (c faultCase) try(t *testing.T, plan faulty.Plan, old, whole map[string]string) {
	t.Helper()
	parent := t.TempDir()
	out := filepath.Join(parent, "out")
	if c.first != nil {
		mustRun(t, to(c.first, out)...)
	}
	d := faulty.New(disk.System(), plan)
	code, said := c.on(t, d, out)
	at := fmt.Sprintf("operation %d, %s, killed %v: code %d, ", plan.At, d.Failed(), plan.Dead, code)

	stands, _ := folder.Standing(disk.System(), out)
	now := textsUnder(t, stands)
	isOld, isNew := maps.Equal(now, old), maps.Equal(now, whole)
	mine := strings.Contains(d.Failed(), parent)
	switch {
	case !isOld && !isNew:
		t.Errorf("%sthe folder is neither the old nor the new one", at)
	case code <= exitFindings && !isNew:
		t.Errorf("%sand the folder is not the new one", at)
	case code > exitFindings && isNew && !plan.Dead && !strings.Contains(said, "in place"):
		t.Errorf("%sthe new folder is in place, and it said %q", at, said)
	case code > exitFindings && !strings.Contains(said, "driftreach: error: "):
		t.Errorf("%sit said %q", at, said)
	case code > exitFindings && mine && code != exitOutput && !plan.Dead && c.name != "demo":
		t.Errorf("%swant %d; it said %q", at, exitOutput, said)
	case code > exitFindings && !mine && code != exitInput && code != exitUsage && !plan.Dead && !strings.HasPrefix(d.Failed(), "readdir "):
		t.Errorf("%swant %d or %d; it said %q", at, exitInput, exitUsage, said)
	case strings.Contains(said, "driftreach-part/"):
		t.Errorf("%sit shows a temporary path: %q", at, said)
	}
	if !plan.Dead {
		for _, entry := range entriesOf(t, parent) {
			if entry != "out" && !strings.Contains(said, entry) {
				t.Errorf("%s%s is left, and it said %q", at, entry, said)
			}
		}
	}
	mustRun(t, to(c.args, out)...)
	if got := entriesOf(t, parent); !slices.Equal(got, []string{"out"}) || !maps.Equal(textsUnder(t, out), whole) {
		t.Errorf("%sthe next run leaves %v", at, got)
	}
}

// on runs the command on a disk.
func (c faultCase) on(t *testing.T, d disk.Disk, out string) (code int, said string) {
	t.Helper()
	var text bytes.Buffer
	p := &program{ctx: t.Context(), stdout: &text, stderr: &text, disk: d}
	code = p.report(p.run(to(c.args, out)))
	return code, text.String()
}

// to puts the folder into a command line.
func to(args []string, out string) []string {
	args = slices.Clone(args)
	args[slices.Index(args, "OUT")] = out
	return args
}

func mustRun(t *testing.T, args ...string) {
	t.Helper()
	if code, said := runProgram(t, args...); code > exitFindings {
		t.Fatalf("%v: %d: %s", args, code, said)
	}
}

// textsUnder returns the files of a folder, or the single file; nothing if it does not exist.
func textsUnder(t *testing.T, path string) map[string]string {
	t.Helper()
	found := map[string]string{}
	_ = filepath.WalkDir(path, func(at string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			text, err := os.ReadFile(at)
			found[strings.TrimPrefix(at, path)] = string(text)
			return err
		}
		return nil
	})
	return found
}

func entriesOf(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, entry := range entries {
		names = append(names, entry.Name())
	}
	return names
}

// faultInputs writes a small survey and returns its folder.
func faultInputs(t *testing.T, top string) string {
	t.Helper()
	files := map[string]string{
		"points-2026Q2.csv": "occurrenceID,eventDate,decimalLongitude,decimalLatitude,occurrenceStatus,management_status,patch_area_m2,canopy_cover_percent\n" +
			"p01,2026-05-02,-40.0000,-33.0010,detected,untreated,200,80\np02,2026-05-02,-40.0001,-33.0012,detected,untreated,90,80\n" +
			"p03,2026-05-03,-40.0000,-33.0100,detected,treated,90,50\np04,2026-05-04,-40.0001,-33.0150,notDetected,,,\n",
		"streams.geojson": `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"stream_id":"s1","waterBody":"Long Water","stream_order":2},` +
			`"geometry":{"type":"LineString","coordinates":[[-40.0,-33.0],[-40.0002,-33.005],[-40.0,-33.01],[-40.0001,-33.03]]}}]}`,
		"settings.toml": "[drift]\ndraws = 8\n",
	}
	files["points-2026Q3.csv"] = strings.ReplaceAll(files["points-2026Q2.csv"], "2026-05", "2026-08")
	dir := filepath.Join(top, "in")
	if err := os.MkdirAll(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}
