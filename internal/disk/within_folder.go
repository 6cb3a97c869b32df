package disk

import (
	"os"
	"path/filepath"
	"strings"
)

// Within says whether a path is the folder dir or inside it, after following links. It asks the system
// which folders are the same, so that upper and lower case, short names and mounts do not matter.
func Within(path, dir string) bool {
	if below(absolute(dir), absolute(path)) { // as written, before following links
		return true
	}
	from, to := resolved(dir), resolved(path)
	top, err := os.Stat(from)
	if err != nil {
		return below(from, to)
	}
	for {
		if info, err := os.Stat(to); err == nil && os.SameFile(info, top) {
			return true
		}
		parent := filepath.Dir(to)
		if parent == to {
			return false
		}
		to = parent
	}
}

func below(dir, path string) bool {
	rel, err := filepath.Rel(dir, path)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

func absolute(path string) string {
	if full, err := filepath.Abs(path); err == nil {
		return full
	}
	return path
}

// resolved returns the absolute path without links, as far as the path exists.
func resolved(path string) string {
	full := absolute(path)
	if real, err := filepath.EvalSymlinks(full); err == nil {
		return real
	}
	parent := filepath.Dir(full)
	if parent == full {
		return full
	}
	return filepath.Join(resolved(parent), filepath.Base(full))
}
