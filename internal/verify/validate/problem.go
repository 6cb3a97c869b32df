// Package validate checks finished GeoJSON, KML, KMZ, CSV and calendar files for requirements of their
// standards that a schema cannot check. It knows nothing of how the files were made: tests run a
// batch's whole output through it.
package validate

import "fmt"

// limit is how many problems are listed; more are only counted.
const limit = 20

// Report lists the problems of one file, in the order of the file.
type Report struct {
	Problems []string
	Features int // features of a collection, placemarks of a map, rows of a table
	more     int
	links    map[string]bool // targets of a map's links and images
}

// OK says whether there are no problems.
func (r *Report) OK() bool { return len(r.Problems) == 0 }

// More returns how many problems were found beyond those listed.
func (r *Report) More() int { return r.more }

func (r *Report) addf(format string, args ...any) {
	if len(r.Problems) >= limit {
		r.more++
		return
	}
	r.Problems = append(r.Problems, fmt.Sprintf(format, args...))
}
