package main

import (
	"path/filepath"
	"slices"
	"strings"
)

// shownNames returns, for each path, its name in findings and manifests: the last part of the path, so
// that the bytes of a batch do not depend on the machine or on how a path was typed. If different files
// have the same name, each keeps as many folders as are needed to tell them apart. Slashes are forward
// slashes on every system.
func shownNames(paths []string) []string {
	parts := make([][]string, len(paths))
	for i, path := range paths {
		parts[i] = strings.Split(strings.Trim(filepath.ToSlash(whole(path)), "/"), "/")
	}
	names := make([]string, len(paths))
	for i := range paths {
		for k := 1; k <= len(parts[i]); k++ {
			names[i] = ending(parts[i], k)
			if alone(parts, i, k) {
				break
			}
		}
	}
	return names
}

// ending joins the last k parts.
func ending(parts []string, k int) string {
	return strings.Join(parts[max(0, len(parts)-k):], "/")
}

// alone says whether no other path ends in the last k parts of path i.
func alone(parts [][]string, i, k int) bool {
	for j := range parts {
		if !slices.Equal(parts[i], parts[j]) && ending(parts[i], k) == ending(parts[j], k) {
			return false
		}
	}
	return true
}

// whole returns the absolute path, as far as it is known.
func whole(path string) string {
	full, err := filepath.Abs(path)
	if err != nil {
		return path
	}
	return full
}
