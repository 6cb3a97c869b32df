package main

import (
	"debug/elf"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// The program built as the README says needs no library of the system and, traced
// by strace through a batch that reads and writes every kind of file, opens no
// socket.
func TestProgramIsStaticAndOpensNoSocket(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the program; left out of short tests")
	}
	if runtime.GOOS != "linux" {
		t.Skip("strace is of Linux")
	}
	strace, err := exec.LookPath("strace")
	if err != nil {
		t.Skip("strace is not installed")
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	dir := smallBatch(t)
	program := filepath.Join(dir, "driftreach")
	build := exec.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-o", program, "driftreach/cmd/driftreach")
	build.Dir = here
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("build: %v\n%s", err, out)
	}
	if needs := dynamic(t, program); needs {
		t.Error("the program needs a loader of the system")
	}
	log := filepath.Join(dir, "trace")
	run := exec.Command(strace, "-f", "-qq", "-e", "trace=network", "-o", log, program, "batch", "--points", "points.csv", "--streams", "2026Q3/driftreach.gpkg:network",
		"--units", "units.geojson", "--previous", "2026Q2", "--quarter", "2026Q3", "--out", "traced", "--gpkg", "--kml", "--network")
	run.Dir = dir
	if out, err := run.CombinedOutput(); err != nil {
		if strings.Contains(string(out), "ptrace") || strings.Contains(string(out), "not permitted") {
			t.Skipf("tracing is not allowed here: %s", out)
		}
		t.Fatalf("%v\n%s", err, out)
	}
	text, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		if strings.Contains(line, "(") && !strings.Contains(line, "SIG") {
			t.Errorf("asks for the network: %s", line)
		}
	}
}

// dynamic says whether a program asks for a loader (ELF, program header PT_INTERP).
func dynamic(t *testing.T, program string) bool {
	t.Helper()
	file, err := elf.Open(program)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	return slices.ContainsFunc(file.Progs, func(p *elf.Prog) bool { return p.Type == elf.PT_INTERP })
}
