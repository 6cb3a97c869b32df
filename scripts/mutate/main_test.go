package main

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// TestTablesStandInTheSource: every change in once.tsv and every line in equivalent.tsv still
// occurs in its source file, except for comments. So whoever moves code must also change the
// tables.
func TestTablesStandInTheSource(t *testing.T) {
	t.Chdir("../..")
	changes, packages, err := readOnce("scripts/mutate/once.tsv")
	if err != nil {
		t.Fatal(err)
	}
	if len(changes) < 33 || len(packages) != len(changes) {
		t.Errorf("%d changes that passed once, %d packages", len(changes), len(packages))
	}
	for _, of := range packages {
		if dir := strings.Fields(of)[0]; !isFolder(dir) {
			t.Errorf("there is no package %s", dir)
		}
	}
	known, err := readEquivalents("scripts/mutate/equivalent.tsv")
	if err != nil {
		t.Fatal(err)
	}
	for key := range known {
		path, rest, _ := strings.Cut(key, "\t")
		line, _, _ := strings.Cut(rest, "\t")
		text, err := os.ReadFile(path)
		if err != nil {
			t.Error(err)
			continue
		}
		there := false
		for source := range strings.Lines(string(text)) {
			there = there || code(source) == line
		}
		if !there {
			t.Errorf("%s has no line %q", path, line)
		}
	}
	for _, dir := range slices.Concat(science, house) {
		if !isFolder(dir) {
			t.Errorf("there is no package %s", dir)
		}
	}
	for dir, others := range elsewhere {
		if !slices.Contains(house, dir) {
			t.Errorf("%s is none of the packages that are sampled", dir)
		}
		for _, of := range others {
			if at := strings.Fields(of)[0]; !isFolder(at) || at == dir {
				t.Errorf("what holds %s elsewhere cannot be %s", dir, of)
			}
		}
	}
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// TestChangesOfASource: the changes of a few lines of source, by hand; none for messages,
// infinities and names.
func TestChangesOfASource(t *testing.T) {
	const source = "package p\n\nconst least = 0.5\n\nfunc f(a, b int) bool {\n\tif a < b {\n\t\ta++\n\t}\n\tpanic(fmt.Sprint(a + 7))\n\treturn a == 3\n}\n"
	found, err := changesIn("p.go", []byte(source))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range found {
		got = append(got, oneLine(c.before)+" -> "+oneLine(c.after))
		if source[c.begin:c.end] != c.before {
			t.Errorf("%q stands where %q is said to", source[c.begin:c.end], c.before)
		}
	}
	slices.Sort(got)
	want := []string{"0.5 -> 0.55", "3 -> 4", "< -> <=", "< -> >=", "== -> !=", "a == 3 -> !(a == 3)", "a++ -> nothing", "panic(fmt.Sprint(a + 7)) -> nothing"}
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestBy: the first test that failed is named, or the limit that ended them.
func TestBy(t *testing.T) {
	for said, want := range map[string]string{
		"ok  \tdriftreach/geo\t0.1s\n": "",
		"--- FAIL: TestA (0.01s)\n    a_test.go:3: no\n--- FAIL: TestB (0.01s)\nFAIL\n": "(TestA (0.01s))",
		"panic: test timed out after 20s\n\trunning tests:\n\t\tTestA (20s)\n":          "(panic: test timed out after 20s)",
	} {
		if got := by(said); got != want {
			t.Errorf("%q: %q, want %q", said, got, want)
		}
	}
}
