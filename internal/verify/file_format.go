package verify

import (
	"path"
	"strings"

	"driftreach/internal/mapfile/conform"
)

// formOf returns the check of a format by the file's ending: RFC 7946, RFC 4180,
// RFC 5545, OGC KML 2.2 and OGC GeoPackage; nil for one that has none here. Its
// report counts features, placemarks, events or rows.
func formOf(name string) func(data []byte) *conform.Report {
	within := func(check func([]byte, conform.Bounds) *conform.Report) func([]byte) *conform.Report {
		return func(data []byte) *conform.Report { return check(data, conform.Bounds{}) }
	}
	switch strings.ToLower(path.Ext(name)) {
	case ".geojson":
		return within(conform.GeoJSON)
	case ".csv":
		return conform.CSV
	case ".ics":
		return within(conform.Calendar)
	case ".kmz":
		return within(conform.KMZ)
	case ".kml":
		return func(data []byte) *conform.Report { return conform.KML(data, conform.Bounds{}) }
	case ".gpkg":
		return conform.GeoPackage
	case ".svg", ".html":
		return conform.Markup
	}
	return nil
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
