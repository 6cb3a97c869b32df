package main

import (
	"errors"
	"path/filepath"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
)

// mayHoldTrend refuses an output folder that is one of the batches, contains one or is inside one, or
// that is another batch or demo: a trend replaces only a trend.
func (p *program) mayHoldTrend(out string, dirs []string) error {
	return p.mayHold(out, dirs, trendFile, "a trend")
}

// mayHold does the same for a folder that is recognised by a file.
func (p *program) mayHold(out string, dirs []string, file, what string) error {
	refuse := func(why string) error {
		return &folder.OutputError{Path: out, Err: errors.New(why), Remedy: "choose another --out"}
	}
	for _, dir := range dirs {
		switch {
		case disk.Within(out, dir):
			return refuse("it is, or lies in, the batch " + dir)
		case disk.Within(dir, out):
			return refuse("the batch " + dir + " lies in it")
		}
	}
	if _, err := p.disk.Stat(filepath.Join(out, folder.ManifestName)); err != nil {
		return nil
	}
	if _, err := p.disk.Stat(filepath.Join(out, file)); err != nil {
		return refuse("there is something else in it than " + what)
	}
	return nil
}

// The files of a trend's folder.
const (
	trendFile  = folder.TrendFile
	seriesFile = "series.csv"
	chartFile  = "trend.svg"
	pageFile   = "trend.html"
)

// trendFiles names the files to open first.
func trendFiles(out string) (page, table string) {
	return filepath.Join(out, pageFile), filepath.Join(out, trendFile)
}
