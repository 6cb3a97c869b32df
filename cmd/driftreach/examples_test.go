package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var exampleHead = regexp.MustCompile(`(?m)^func Example\w*\(\) \{`)

// TestGeometryHasExamples: each package below geo has at least one example that runs. Every example
// has an output comment; without one Go compiles it but does not run it.
func TestGeometryHasExamples(t *testing.T) {
	root := filepath.Join(top, "geo")
	packages, examples := map[string]bool{}, map[string]int{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" {
			return err
		}
		dir := filepath.Dir(path)
		if !strings.HasSuffix(path, "_test.go") {
			packages[dir] = true
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		heads := len(exampleHead.FindAll(text, -1))
		examples[dir] += heads
		if outputs := strings.Count(string(text), "\t// Output:"); outputs != heads {
			t.Errorf("%s has %d examples and %d outputs", path, heads, outputs)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for dir := range packages {
		if examples[dir] == 0 {
			t.Errorf("%s has no example", dir)
		}
	}
	if len(packages) < 8 {
		t.Errorf("%d packages below %s", len(packages), root)
	}
}
