package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"driftreach/internal/disk"
)

// demoVariable is the environment variable for a folder with the demo of seed 1 with --kml, made
// from the present source: scripts/test makes one for the browser and for these tests.
const demoVariable = "DRIFTREACH_DEMO"

// sharedDemo is the demo of seed 1 with --kml, made once: a run takes some ten seconds of processor
// time, and most tests only read it.
var sharedDemo = sync.OnceValues(func() (string, error) {
	if made := os.Getenv(demoVariable); made != "" {
		return made, nil
	}
	dir, err := os.MkdirTemp("", "driftreach-demo-")
	if err != nil {
		return "", err
	}
	shared = dir
	out := filepath.Join(dir, "demo")
	var stderr bytes.Buffer
	p := &program{ctx: context.Background(), stdout: new(bytes.Buffer), stderr: &stderr, disk: disk.System()}
	if code := p.report(p.run([]string{"demo", "--out", out, "--kml"})); code != exitDone {
		return "", fmt.Errorf("exit code %d: %s", code, stderr.String())
	}
	return out, nil
})

// shared is what to remove when all tests are done.
var shared string

// cleaned removes the shared demo after the tests, since testscript ends the process.
type cleaned struct{ m *testing.M }

func (c cleaned) Run() int {
	defer func() { os.RemoveAll(shared) }()
	return c.m.Run()
}

// demoToRead returns the folder of the shared demo, which a test must not change.
func demoToRead(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("runs the demo; left out of short tests")
	}
	dir, err := sharedDemo()
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// copyDemo runs "demo DIR": a copy of the shared demo, to change at will.
func copyDemo(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: demo DIR")
	}
	dir, err := sharedDemo()
	ts.Check(err)
	ts.Check(os.CopyFS(ts.MkAbs(args[0]), os.DirFS(dir)))
}
