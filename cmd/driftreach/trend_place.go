package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"

	"driftreach/internal/batch"
)

// mayHoldTrend refuses an output folder that is, holds or lies in one of the
// batches, or that is another batch or demo: a trend replaces only a trend.
func mayHoldTrend(out string, dirs []string) error {
	refuse := func(why string) error {
		return &batch.OutputError{Path: out, Err: errors.New(why), Remedy: "choose another --out"}
	}
	for _, dir := range dirs {
		switch {
		case within(out, dir):
			return refuse("it is, or lies in, the batch " + dir)
		case within(dir, out):
			return refuse("the batch " + dir + " lies in it")
		}
	}
	if _, err := os.Stat(filepath.Join(out, batch.ManifestName)); err != nil {
		return nil
	}
	if _, err := os.Stat(filepath.Join(out, trendFile)); err != nil {
		return refuse("there is something else in it than a trend")
	}
	return nil
}

// within says whether a path is, or lies below, the folder dir, links followed.
func within(path, dir string) bool {
	from, to := resolved(dir), resolved(path)
	rel, err := filepath.Rel(from, to)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// resolved returns the absolute path without links, as far as it is there.
func resolved(path string) string {
	full, err := filepath.Abs(path)
	if err != nil {
		return path
	}
	if real, err := filepath.EvalSymlinks(full); err == nil {
		return real
	}
	parent := filepath.Dir(full)
	if parent == full {
		return full
	}
	return filepath.Join(resolved(parent), filepath.Base(full))
}
