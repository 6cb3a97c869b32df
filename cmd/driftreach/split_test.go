package main

import (
	"errors"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"driftreach/internal/disk"
	"driftreach/internal/part"
)

// inParts runs "parts NUMBER FLAG...": splits a quarter, makes every part and merges
// them into merged-NUMBER.
func inParts(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: parts NUMBER FLAG...")
	}
	cut, made := "cut-"+args[0], "made-"+args[0]
	ts.Check(ts.Exec("driftreach", append([]string{"split", "--parts", args[0], "--out", cut}, args[1:]...)...))
	for n := 1; ; n++ {
		if _, err := part.HeadOf(disk.System(), ts.MkAbs(cut+"/"+part.Name(n)), part.PartFile); err != nil {
			break // the last was before
		}
		ts.Check(ts.Exec("driftreach", "batch", "--part", cut+"/"+part.Name(n), "--out", made+"/"+part.Name(n)))
	}
	ts.Check(ts.Exec("driftreach", "merge", made, "--out", "merged-"+args[0]))
}

// makeRegion runs "region POINTS LINES DIR": makes points.csv and streams.geojson of a region of that size.
func makeRegion(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: region POINTS LINES DIR")
	}
	command := exec.Command("go", "run", "./scripts/generate", "-points", args[0], "-lines", args[1], "-out", ts.MkAbs(args[2]))
	command.Dir = filepath.Join("..", "..")
	text, err := command.CombinedOutput()
	ts.Logf("%s", text)
	ts.Check(err)
}

// TestIndex: which part each scheduler asks for, by hand.
func TestIndex(t *testing.T) {
	for _, c := range []struct {
		variable, value string
		want            int // 0 for an error
	}{
		{"SLURM_ARRAY_TASK_ID", "1", 1}, {"SLURM_ARRAY_TASK_ID", "40", 40}, {"SLURM_ARRAY_TASK_ID", "0", 0},
		{"JOB_COMPLETION_INDEX", "0", 1}, {"JOB_COMPLETION_INDEX", "39", 40}, {"JOB_COMPLETION_INDEX", "-1", 0},
		{"AWS_BATCH_JOB_ARRAY_INDEX", "0", 1}, {"AWS_BATCH_JOB_ARRAY_INDEX", "9999", 0}, {"AWS_BATCH_JOB_ARRAY_INDEX", "x", 0},
		{"SOMETHING_ELSE", "1", 0},
	} {
		got, err := index(func(name string) (string, bool) { return c.value, name == c.variable })
		if usage := (*usageError)(nil); c.want == 0 && !errors.As(err, &usage) || c.want > 0 && (err != nil || got != c.want) {
			t.Errorf("%s=%s: %d, %v", c.variable, c.value, got, err)
		}
	}
}

// TestSameMaker: what another version made, or another family of processors, is refused
// by name.
func TestSameMaker(t *testing.T) {
	made := maker()
	made.Quarter = "2026Q3"
	if err := sameMaker("part x", made); err != nil {
		t.Error(err)
	}
	other := made
	other.Machine = "vax"
	if err := sameMaker("part x", other); exitCode(err) != exitInput || !strings.Contains(err.Error(), "part x: it was made on vax") {
		t.Error(err)
	}
	other = made
	other.Version = "0.0"
	if err := sameMaker("part x", other); exitCode(err) != exitInput || !strings.Contains(err.Error(), "part x: it was made by driftreach 0.0") {
		t.Error(err)
	}
}
