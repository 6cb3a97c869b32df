// Package malformed makes damaged files, each in one way, for the tests of the readers and for
// scripts/limits. It makes the same bytes every time.
package malformed

import (
	"os"
	"path/filepath"
)

// Case is one malformed input.
type Case struct {
	Name   string
	Ending string            // ending of the file name, such as ".csv"
	Bytes  []byte            // of the file
	Beside map[string][]byte // sidecar files, by ending
	Role   string            // the flag it is passed with, such as "streams"; blank for points
}

// good is a good file of which damaged copies are made.
type good struct {
	name   string // in testdata
	beside []string
	role   string
}

var goods = []good{
	{"intake/text.csv", nil, ""},
	{"intake/points.geojson", nil, ""},
	{"intake/map.kml", nil, ""},
	{"intake/map.kmz", nil, ""},
	{"intake/waypoints.gpx", nil, ""},
	{"intake/feet.gpkg", nil, ""},
	{"intake/feet.shp", []string{".dbf", ".prj"}, ""},
	{"intake/zipped.shz", nil, ""},
	{"handed-in/one_sheet.xlsx", nil, ""},
	{"parquet/feet.parquet", nil, ""},
	{"parquet/groups.parquet", nil, ""},
	{"parquet/lines.geojson", nil, "streams"},
	{"parquet/native_lines.parquet", nil, "streams"},
	{"parquet/patches.geojson", nil, "units"},
	{"parquet/native_lines.parquet", nil, "surveyed"},
}

// damaged combines every good file with every kind of damage.
func damaged(testdata string) ([]Case, error) {
	var all []Case
	for _, g := range goods {
		whole, err := os.ReadFile(filepath.Join(testdata, filepath.FromSlash(g.name)))
		if err != nil {
			return nil, err
		}
		ending := filepath.Ext(g.name)
		beside := map[string][]byte{}
		for _, e := range g.beside {
			if beside[e], err = os.ReadFile(filepath.Join(testdata, filepath.FromSlash(g.name[:len(g.name)-len(ending)]+e))); err != nil {
				return nil, err
			}
		}
		for _, w := range ways {
			name := g.name + ", " + w.name
			if g.role != "" && g.role != "streams" {
				name = g.role + ", " + name
			}
			all = append(all, Case{name, ending, w.damage(whole), beside, g.role})
		}
	}
	return all, nil
}
