package earth

import (
	_ "embed" // the table
	"strconv"
	"strings"
)

// statePlane has the zones of the State Plane Coordinate System of 1983 by the
// EPSG codes of the systems on them, made by scripts/state_plane.py. [P] NOAA
// Manual NOS NGS 5, appendix A; EPSG Geodetic Parameter Dataset. Degrees and metres.
//
//go:embed state_plane.tsv
var statePlane string

// The columns of statePlane; between method and systems stand parameters.
const (
	zoneName = iota
	zoneUnit
	zoneMethod
	zoneParameters
)

// statePlaneZones gives every zone: its cells, the names of the columns, and its
// systems as in "NAD83(2011)=6423".
func statePlaneZones(yield func(cells, columns, systems []string) bool) {
	lines := strings.Split(strings.TrimSpace(statePlane), "\n")
	columns := strings.Split(lines[0], "\t")
	for _, line := range lines[1:] {
		cells := strings.Split(line, "\t")
		if !yield(cells, columns, strings.Fields(cells[len(columns)-1])) {
			return
		}
	}
}

// statePlaneCode returns the system of a code, and whether it is one of a zone.
func statePlaneCode(code int) (c coded, found bool) {
	ending := "=" + strconv.Itoa(code)
	statePlaneZones(func(cells, columns, systems []string) bool {
		for _, system := range systems {
			if datum, of := strings.CutSuffix(system, ending); of {
				c = coded{code: code, name: datum + " / " + cells[zoneName], datum: datum, method: cells[zoneMethod], values: map[string]float64{}}
				c.unit, _ = strconv.ParseFloat(cells[zoneUnit], 64) // the test reads every line
				for i := zoneParameters; i < len(columns)-1; i++ {
					if v, err := strconv.ParseFloat(cells[i], 64); err == nil {
						c.values[columns[i]] = v
					}
				}
				found = true
			}
		}
		return !found
	})
	return c, found
}
