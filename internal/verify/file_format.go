package verify

import (
	"archive/zip"
	"bytes"
	"fmt"
	"path"
	"strings"

	"driftreach/internal/disk"
	"driftreach/internal/mapfile"
	"driftreach/internal/verify/validate"
)

// formOf returns the check of a format by the file's ending: RFC 7946, RFC 4180, RFC 5545, OGC KML 2.2,
// GPX 1.1 and OGC GeoPackage; nil for formats without a check. Its report counts features, placemarks,
// events or rows.
func formOf(name string) func(data []byte) *validate.Report {
	within := func(check func([]byte, validate.Bounds) *validate.Report) func([]byte) *validate.Report {
		return func(data []byte) *validate.Report { return check(data, validate.Bounds{}) }
	}
	switch strings.ToLower(path.Ext(name)) {
	case ".geojson":
		return within(validate.GeoJSON)
	case ".zip":
		return func(data []byte) *validate.Report { return packedLayer(name, data) }
	case ".csv":
		return validate.CSV
	case ".ics":
		return within(validate.Calendar)
	case ".kmz":
		return within(validate.KMZ)
	case ".kml":
		return func(data []byte) *validate.Report { return validate.KML(data, validate.Bounds{}) }
	case ".gpx":
		return within(validate.GPX)
	case ".gpkg":
		return validate.GeoPackage
	case ".svg", ".html":
		if path.Base(name) == mapPage {
			return validate.MapPage
		}
		return validate.Markup
	}
	return nil
}

// mapPage is the page with the map, which contains a script.
const mapPage = "map.html"

// counted says whether the manifest's count for a file is also the number that its format check counts.
// It is not for pictures and pages, nor for the map, whose legend and folders have placemarks besides
// the records.
func counted(name string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".geojson", ".csv", ".ics", ".gpx", ".zip":
		return true
	}
	return false
}

// packedLayer checks the layer in an archive against its standard.
func packedLayer(name string, data []byte) *validate.Report {
	layer, err := unpacked(mapfile.LayerIn(name), data)
	if err != nil {
		return &validate.Report{Problems: []string{err.Error()}}
	}
	return validate.GeoJSON(layer, validate.Bounds{})
}

// unpacked returns the only file of an archive, which must be the given layer.
func unpacked(layer string, data []byte) ([]byte, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	if len(z.File) != 1 || z.File[0].Name != layer {
		return nil, fmt.Errorf("holds something other than %s", layer)
	}
	file, err := z.File[0].Open()
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return disk.ReadAll(file, layer, maxChecked)
}
