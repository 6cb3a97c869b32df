package verify

import (
	"io/fs"
	"path"
	"strings"

	"driftreach/internal/mapfile/conform"
)

// form checks a file against the standard of its format and returns how many
// features, placemarks, events or rows it holds.
type form func(folder fs.FS, name string) (n int, problems []string, err error)

// maxChecked bounds the files that are checked whole in memory, in bytes. Our
// choice: larger than any that a region of a million records makes.
const maxChecked = 4 << 30

// formOf returns the check of a format by the file's ending: RFC 7946, RFC 4180,
// RFC 5545, OGC KML 2.2 and OGC GeoPackage; nil for one that has none here.
func formOf(name string) form {
	switch strings.ToLower(path.Ext(name)) {
	case ".geojson":
		return text(func(data []byte) *conform.Report { return conform.GeoJSON(data, conform.Bounds{}) })
	case ".csv":
		return text(conform.CSV)
	case ".ics":
		return text(func(data []byte) *conform.Report { return conform.Calendar(data, conform.Bounds{}) })
	case ".kmz":
		return text(func(data []byte) *conform.Report { return conform.KMZ(data, conform.Bounds{}) })
	case ".kml":
		return text(func(data []byte) *conform.Report { return conform.KML(data, conform.Bounds{}) })
	case ".gpkg":
		return text(conform.GeoPackage)
	case ".svg", ".html":
		return text(conform.Markup)
	}
	return nil
}

// text makes a form of a check that takes a file whole.
func text(check func(data []byte) *conform.Report) form {
	return func(folder fs.FS, name string) (int, []string, error) {
		data, err := whole(folder, name, maxChecked)
		if err != nil {
			return 0, nil, err
		}
		r := check(data)
		problems := r.Problems
		if more := r.More(); more > 0 {
			problems = append(problems, plural(more, "more problem"))
		}
		return r.Features, problems, nil
	}
}

// counted says whether what a manifest counts of a file is what its form counts:
// not for pictures and pages, and not for the map, whose legend and folders hold
// placemarks beside the records.
func counted(name string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".geojson", ".csv", ".ics":
		return true
	}
	return false
}
