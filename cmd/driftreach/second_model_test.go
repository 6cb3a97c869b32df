package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"driftreach/internal/disk"
)

// TestDriftAgainstASecondModel: on random braided networks the printed figures of every stand,
// piece and percentile equal those of scripts/oracle_drift.py, a model written only from the
// definitions with networkx 2.8.8. The script runs hundreds of networks, this test eight.
func TestDriftAgainstASecondModel(t *testing.T) {
	const python, cases = "/usr/bin/python3", 8
	if exec.Command(python, "-c", "import networkx").Run() != nil {
		t.Skip("the second model needs networkx for " + python + " (Debian: python3-networkx)")
	}
	dir, script := t.TempDir(), filepath.Join(top, "scripts", "oracle_drift.py")
	if out, err := exec.Command(python, script, "make", dir, "2026", strconv.Itoa(cases)).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for n := range cases {
		in := func(name string) string { return filepath.Join(dir, strconv.Itoa(n), name) }
		var stderr bytes.Buffer
		p := &program{ctx: t.Context(), stdout: new(bytes.Buffer), stderr: &stderr, disk: disk.System()}
		args := []string{"batch", "--points", in("points.csv"), "--streams", in("streams.geojson"), "--quarter", "2026Q3",
			"--settings", in("settings.toml"), "--network", "--out", in("out")}
		if _, err := os.Stat(in("water.geojson")); err == nil {
			args = append(args, "--water", in("water.geojson"))
		}
		if code := p.report(p.run(args)); code != exitDone {
			t.Fatalf("case %d: exit code %d: %s", n, code, stderr.String())
		}
	}
	out, err := exec.Command(python, script, "compare", dir).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	t.Logf("%s", out)
}
