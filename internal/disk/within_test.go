package disk

import (
	"os"
	"path/filepath"
	"testing"
)

// Whether a path is a folder or inside it, as written and after following links; by hand. A folder
// whose name begins with the name of another is not inside it, nor one that begins with two dots
// outside of its parent.
func TestWithin(t *testing.T) {
	top := t.TempDir()
	at := func(parts ...string) string { return filepath.Join(append([]string{top}, parts...)...) }
	for _, dir := range []string{at("a", "b"), at("ab"), at("other"), at("a", "..b")} {
		if err := os.MkdirAll(dir, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(at("a", "b", "f.csv"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for link, to := range map[string]string{"link": "a", "other/back": "../a/b"} {
		if err := os.Symlink(to, at(filepath.FromSlash(link))); err != nil {
			t.Skip("no links here: ", err)
		}
	}
	for _, c := range []struct {
		path, dir string
		want      bool
	}{
		{"a", "a", true}, {"a/b", "a", true}, {"a/b/f.csv", "a", true}, {"a/b/f.csv", "a/b", true}, {"a/new/deep", "a", true}, {"a/..b", "a", true}, {"a/..new", "a", true},
		{"ab", "a", false}, {"a", "a/b", false}, {"other", "a", false}, {".", "a", false}, {"a/../other", "a", false}, {"a/../a/b", "a", true},
		{"link", "a", true}, {"link/b/f.csv", "a", true}, {"link/new", "a/b", false}, {"link/b", "a/b", true}, {"a/b", "link", true}, {"other/back", "a", true}, {"other/back/f.csv", "a/b", true},
		{"other/back", "other", true}, {"other", "link", false}, {"none/x", "none", true}, {"nones", "none", false}, {"none", "none/x", false}, {"link/b/new", "a/b/new", true},
	} {
		if got := Within(at(filepath.FromSlash(c.path)), at(filepath.FromSlash(c.dir))); got != c.want {
			t.Errorf("%s in %s: %v", c.path, c.dir, got)
		}
	}
	t.Chdir(at("a"))
	for path, want := range map[string]bool{"b": true, ".": true, "..": false, "../ab": false, "../link/b": true, "../other": false} {
		if got := Within(filepath.FromSlash(path), "."); got != want {
			t.Errorf("%s from inside: %v", path, got)
		}
	}
}
