package mapfile

import (
	"io"

	"driftreach/internal/result"
)

// writeKML writes map.kml: stands in treatment order, reach at risk by class, aquatic zone and survey
// points, in OGC KML 2.2. The bytes are the same for any number of workers.
func writeKML(w io.Writer, run *result.Run, workers int) error {
	d := newDocument(run, false)
	return inOrder(d, workers, nil, func(b *block) error {
		_, err := w.Write(b.text.Bytes())
		return err
	})
}
