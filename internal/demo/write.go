package demo

import (
	"fmt"
	"os"
	"path/filepath"
)

// file is one file of the scenario.
type file struct {
	name string
	text []byte
}

// Write makes the scenario of a seed and puts its files into dir, which it
// creates where it is missing. It returns the scenario.
func Write(dir string, seed uint64) (Scenario, error) {
	s := Make(seed)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return s, fmt.Errorf("write the demo's input: %w", err)
	}
	for _, f := range s.files() {
		if err := os.WriteFile(filepath.Join(dir, f.name), f.text, 0o666); err != nil {
			return s, fmt.Errorf("write the demo's input: %w", err)
		}
	}
	return s, nil
}

// files returns the scenario's files under the names its README gives them.
func (s Scenario) files() []file {
	out := []file{
		{"README.md", s.Readme},
		{"streams.geojson", s.Streams},
		{"works.geojson", s.Works},
		{"treatments.csv", s.Treatments},
		{"barriers.geojson", s.Barriers},
		{"units.geojson", s.Units},
	}
	for _, q := range s.Quarters {
		out = append(out,
			file{q.PointsFile(), q.Points},
			file{"surveyed-" + q.Quarter + ".geojson", q.Surveyed})
	}
	return out
}

// PointsFile returns the name of the quarter's points file in the folder.
func (q QuarterFiles) PointsFile() string { return "points-" + q.Quarter + ".csv" }
