package main

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
)

func TestShownNamesAreTheEndsOfPaths(t *testing.T) {
	t.Chdir(t.TempDir())
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ paths, want []string }{
		{[]string{"points.csv"}, []string{"points.csv"}},
		{[]string{"./in/points.csv", "in/../in/streams.shp"}, []string{"points.csv", "streams.shp"}},
		{[]string{filepath.Join(here, "in", "points.csv")}, []string{"points.csv"}},
		{[]string{"north/points.csv", "south/points.csv", "streams.shp"}, []string{"north/points.csv", "south/points.csv", "streams.shp"}},
		{[]string{"a/crew/points.csv", "b/crew/points.csv"}, []string{"a/crew/points.csv", "b/crew/points.csv"}},
		{[]string{"a/points.csv", "./a/points.csv"}, []string{"points.csv", "points.csv"}}, // one file named twice
		{[]string{"."}, []string{filepath.Base(here)}},
		{nil, []string{}},
	} {
		if got := shownNames(c.paths); !slices.Equal(got, c.want) {
			t.Errorf("%q are shown as %q, want %q", c.paths, got, c.want)
		}
	}
}
