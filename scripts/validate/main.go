// Command validate checks the files of finished batch folders against their standards: RFC 7946,
// OGC KML 2.2 beyond its schema, and RFC 4180; and with xmllint (KML schema) and GDAL where those
// are installed.
//
//	go run ./scripts/validate demo/2026Q3 ...
package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"driftreach/internal/verify/validate"
)

func main() {
	if len(os.Args) < 2 {
		fmt.Fprintln(os.Stderr, "validate: name one or more batch folders")
		os.Exit(2)
	}
	bad := 0
	for _, dir := range os.Args[1:] {
		files, err := filepath.Glob(filepath.Join(dir, "*.*"))
		if err != nil || len(files) == 0 {
			fmt.Fprintf(os.Stderr, "validate: nothing in %s\n", dir)
			bad++
		}
		for _, file := range files {
			bad += tell(file)
		}
	}
	if bad > 0 {
		fmt.Printf("%d files are not valid\n", bad)
		os.Exit(1)
	}
}

// tell prints a line about the file and returns 1 when something is wrong.
func tell(file string) int {
	data, err := os.ReadFile(file)
	if err != nil {
		fmt.Println(err)
		return 1
	}
	r := report(file, data)
	if r == nil {
		return 0
	}
	r.Problems = append(r.Problems, outside(file, data, r.Features)...)
	fmt.Printf("%-40s %8d features  %d problems\n", file, r.Features, len(r.Problems))
	for _, p := range r.Problems {
		fmt.Println("   ", p)
	}
	if r.OK() {
		return 0
	}
	return 1
}

// report runs this project's own checks; nil for a file they do not handle.
func report(file string, data []byte) *validate.Report {
	switch strings.ToLower(filepath.Ext(file)) {
	case ".geojson":
		return validate.GeoJSON(data, validate.Bounds{})
	case ".csv":
		return validate.CSV(data)
	case ".ics":
		return validate.Calendar(data, validate.Bounds{})
	case ".kmz":
		return validate.KMZ(data, validate.Bounds{})
	case ".kml":
		return validate.KML(data, validate.Bounds{})
	}
	return nil
}
