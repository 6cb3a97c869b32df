package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"github.com/spf13/pflag"

	"driftreach/internal/batch"
	"driftreach/internal/intake"
	"driftreach/internal/survey"
)

// inputFlags are the flags by which a command takes its input.
type inputFlags struct {
	points  []string
	streams string
	quarter string
}

func (f *inputFlags) add(flags *pflag.FlagSet, quarterText string) {
	flags.StringArrayVar(&f.points, "points", nil, "survey points `FILE` (CSV or GeoJSON), repeatable")
	flags.StringVar(&f.streams, "streams", "", "stream centerlines `FILE` (GeoJSON)")
	flags.StringVar(&f.quarter, "quarter", "", quarterText)
}

// read returns the inputs the flags name. The files are there and can be
// opened; nothing of them has been read.
func (f *inputFlags) read() (batch.Inputs, error) {
	var in batch.Inputs
	var err error
	if f.quarter != "" {
		if in.Quarter, err = survey.ParseQuarter(f.quarter); err != nil {
			return in, &usageError{err.Error(), "write for example --quarter 2026Q3"}
		}
	}
	for _, name := range f.points {
		source, err := fileSource(name)
		if err != nil {
			return in, err
		}
		in.Points = append(in.Points, source)
	}
	if f.streams != "" {
		source, err := fileSource(f.streams)
		if err != nil {
			return in, err
		}
		in.Streams = append(in.Streams, source)
	}
	return in, nil
}

// fileSource returns the source of a file that can be opened.
func fileSource(name string) (intake.Source, error) {
	remedy := "check the name, and that the file may be read"
	file, err := os.Open(name)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			remedy = "check the name; a name with spaces needs quotes"
		}
		return intake.Source{}, &inputError{fmt.Errorf("open input: %s", fault(err)), remedy}
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return intake.Source{}, &inputError{fmt.Errorf("open input: %s", fault(err)), remedy}
	}
	if info.IsDir() {
		return intake.Source{}, &inputError{fmt.Errorf("open input: %s: it is a folder", name), "name a file in it"}
	}
	return intake.Source{Name: name, Size: info.Size(), Open: func() (io.ReadCloser, error) { return os.Open(name) }}, nil
}

// size returns how many bytes the inputs have.
func size(in batch.Inputs) int64 {
	total := int64(0)
	for _, source := range in.Points {
		total += source.Size
	}
	for _, source := range in.Streams {
		total += source.Size
	}
	return total
}
