package survey

import (
	"strings"
)

// CoverTable gives the midpoint of each cover class.
type CoverTable struct {
	Name   string // as in the cover_table setting
	Source string
	points map[string]float64
}

// CoverTables returns the tables that come with the program, by name.
func CoverTables() []CoverTable { return []CoverTable{daubenmire(), modifiedDaubenmire()} }

// FindCoverTable returns the table of that name, ignoring case.
func FindCoverTable(name string) (CoverTable, bool) {
	for _, t := range CoverTables() {
		if strings.EqualFold(t.Name, strings.TrimSpace(name)) {
			return t, true
		}
	}
	return CoverTable{}, false
}

// Midpoint returns the canopy cover for a class, in percent (0..100), ignoring case. ok is false if the
// table does not have the class.
func (t CoverTable) Midpoint(class string) (percent float64, ok bool) {
	percent, ok = t.points[strings.ToUpper(strings.TrimSpace(class))]
	return percent, ok
}

// [P] Daubenmire 1959, A canopy-coverage method of vegetational analysis,
// Northwest Science 33(1): six classes, midpoints.
func daubenmire() CoverTable {
	return CoverTable{
		Name:   "daubenmire",
		Source: "Daubenmire 1959, Northwest Science 33(1):43-64",
		points: map[string]float64{"1": 2.5, "2": 15, "3": 37.5, "4": 62.5, "5": 85, "6": 97.5},
	}
}

// [P] Bureau of Land Management, Technical Reference 1734-4 (1996), table 2: none and trace are
// separate from class 1, the others are as in 1959.
func modifiedDaubenmire() CoverTable {
	return CoverTable{
		Name:   "modified_daubenmire",
		Source: "BLM Technical Reference 1734-4, table 2",
		points: map[string]float64{"0": 0, "T": 0.5, "1": 3, "2": 15, "3": 37.5, "4": 62.5, "5": 85, "6": 97.5},
	}
}
