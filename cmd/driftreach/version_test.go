package main

import (
	"os"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"testing"
)

// What a build without a tag says is what the changelog says comes next.
func TestReleaseIsTheNewestOfTheChangelog(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(top, "CHANGELOG.md"))
	if err != nil {
		t.Fatal(err)
	}
	newest := regexp.MustCompile(`(?m)^## ([\d.]+)`).FindSubmatch(text)
	if newest == nil || string(newest[1]) != release {
		t.Errorf("the newest entry is of %q, the source becomes %s", newest, release)
	}
}

// The forms of a module's version are those of the Go module reference,
// "Versions" and "Pseudo-versions".
func TestVersionIsThatOfTheTag(t *testing.T) {
	for module, want := range map[string]string{
		"v0.2.0":                               "0.2.0",
		"v1.0.0-rc.1":                          "1.0.0-rc.1",
		"(devel)":                              release,
		"":                                     release,
		"v0.0.0-20261126225154-53e0e0c00000":   release,
		"v0.1.1-0.20261126225154-53e0e0c00000": release,
		"v0.2.0+dirty":                         release,
	} {
		info := &debug.BuildInfo{Main: debug.Module{Version: module}}
		if got := versionOf(info, true); got != want {
			t.Errorf("built from %q: %s, want %s", module, got, want)
		}
	}
	if got := versionOf(nil, false); got != release {
		t.Errorf("without build information: %s", got)
	}
}

func TestBuildSaysWhatItWasMadeFrom(t *testing.T) {
	info := &debug.BuildInfo{GoVersion: "go1.26.8", Settings: []debug.BuildSetting{
		{Key: "vcs.revision", Value: "0123456789abcdef0123"}, {Key: "vcs.modified", Value: "true"},
	}}
	want := "commit 0123456789ab, source changed since, go1.26.8, "
	if got := build(info, true); len(got) < len(want) || got[:len(want)] != want {
		t.Errorf("said %q", got)
	}
	if got := build(&debug.BuildInfo{GoVersion: "go1.26.8"}, true); got[:15] != "commit unknown," {
		t.Errorf("without a commit: %q", got)
	}
	if got := build(nil, false); got != "" {
		t.Errorf("without build information: %q", got)
	}
}
