package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestNotices: NOTICES.txt names exactly the modules that the program links on the three systems,
// by `go list`, with their versions, and contains each of their licence files verbatim. LICENSE is
// only the project's own.
func TestNotices(t *testing.T) {
	var linked []string
	for _, system := range []string{"linux", "darwin", "windows"} {
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}\t{{.Dir}}{{end}}{{end}}", ".")
		list.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
		out, err := list.Output()
		if err != nil {
			t.Fatal(err)
		}
		linked = append(linked, strings.FieldsFunc(string(out), func(r rune) bool { return r == '\n' })...)
	}
	slices.Sort(linked)
	linked = slices.Compact(linked)
	var want []string
	for _, line := range linked {
		module, dir, _ := strings.Cut(line, "\t")
		want = append(want, module)
		licences, err := filepath.Glob(filepath.Join(dir, "LICENSE*"))
		if err != nil || len(licences) == 0 {
			if licences, err = filepath.Glob(filepath.Join(dir, "COPYING*")); err != nil || len(licences) == 0 {
				t.Errorf("%s has no licence: %v", module, err)
			}
		}
		for _, name := range licences {
			text, err := os.ReadFile(name)
			if strings.Contains(name, "LOGO") { // licence of a logo, which is not linked
				continue
			}
			if err != nil || !strings.Contains(notices, strings.ReplaceAll(string(text), "\r", "")) {
				t.Errorf("NOTICES.txt does not have %s of %s (%v): `bash scripts/notices` writes it", filepath.Base(name), module, err)
			}
		}
	}
	var told []string
	for _, m := range regexp.MustCompile(`(?m)^-{78}\n(\S+ v\S+)$`).FindAllStringSubmatch(notices, -1) {
		told = append(told, m[1])
	}
	slices.Sort(told)
	if !slices.Equal(told, want) {
		t.Errorf("NOTICES.txt names\n%s\nand the program links\n%s\n`bash scripts/notices` writes it", strings.Join(told, "\n"), strings.Join(want, "\n"))
	}
	own, err := os.ReadFile("../../LICENSE")
	if err != nil || len(own) > 1500 || strings.Contains(string(own), "github.com") || !strings.Contains(string(own), "driftreach authors") {
		t.Errorf("LICENSE is not the project's own alone: %d bytes, %v", len(own), err)
	}
}
