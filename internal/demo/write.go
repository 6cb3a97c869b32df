package demo

import (
	"fmt"
	"os"
	"path/filepath"
)

// File is one file of the scenario.
type File struct {
	Name string // within the scenario's folder
	Text []byte
}

// Write makes the scenario of a seed and puts its files into dir, which it
// creates where it is missing. It returns the scenario.
func Write(dir string, seed uint64) (Scenario, error) {
	s := Make(seed)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return s, fmt.Errorf("write the demo's input: %w", err)
	}
	for _, f := range s.Files() {
		if err := os.WriteFile(filepath.Join(dir, f.Name), f.Text, 0o666); err != nil {
			return s, fmt.Errorf("write the demo's input: %w", err)
		}
	}
	return s, nil
}

// Files returns the scenario's files under the names its README gives them.
func (s Scenario) Files() []File {
	out := []File{
		{"README.md", s.Readme},
		{"streams.geojson", s.Streams},
		{"barriers.geojson", s.Barriers},
		{"water.geojson", s.Water},
		{"units.geojson", s.Units},
	}
	for _, q := range s.Quarters {
		out = append(out, File{q.PointsFile(), q.Points}, File{q.SurveyedFile(), q.Surveyed},
			File{q.TreatmentsFile(), q.Treatments}, File{q.WorksFile(), q.Works})
	}
	return out
}

// PointsFile returns the name of the quarter's points file in the folder.
func (q QuarterFiles) PointsFile() string { return "points-" + q.Quarter + ".csv" }

// SurveyedFile returns the name of the file of what was walked in the quarter.
func (q QuarterFiles) SurveyedFile() string { return "surveyed-" + q.Quarter + ".geojson" }

// TreatmentsFile returns the name of the file of the quarter's treatments.
func (q QuarterFiles) TreatmentsFile() string { return "treatments-" + q.Quarter + ".csv" }

// WorksFile returns the name of the file of the works planned as it ends.
func (q QuarterFiles) WorksFile() string { return "works-" + q.Quarter + ".geojson" }
