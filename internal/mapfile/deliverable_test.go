package mapfile

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"driftreach/internal/result"
	"driftreach/internal/verify/validate"
)

// TestDeliverablesConform runs every file of the fixture and of an empty batch
// through the checks of package validate, and counts features against the run.
func TestDeliverablesConform(t *testing.T) {
	for name, run := range map[string]*result.Run{"fixture": fixture(), "empty": {Quarter: fixture().Quarter, WorksGiven: true}} {
		for _, d := range Deliverables(Extras{KML: true, Network: true, Notices: true, Units: true}) {
			if strings.HasSuffix(d.Name, ".svg") {
				continue // no map: TestOrderSVGIsWellFormed
			}
			t.Run(name+"/"+d.Name, func(t *testing.T) {
				data := mustWrite(t, d, run, 2)
				r := validated(d.Name, data)
				for _, p := range r.Problems {
					t.Error(p)
				}
				if want := d.Rows(run); r.Features != want {
					t.Errorf("%d features, the run has %d", r.Features, want)
				}
			})
		}
	}
}

func validated(name string, data []byte) *validate.Report {
	switch {
	case strings.HasSuffix(name, ".geojson"):
		return validate.GeoJSON(data, validate.Bounds{})
	case strings.HasSuffix(name, ".csv"):
		return validate.CSV(data)
	case strings.HasSuffix(name, ".ics"):
		return validate.Calendar(data, validate.Bounds{})
	case strings.HasSuffix(name, ".kmz"):
		return validate.KMZ(data, validate.Bounds{})
	}
	return validate.KML(data, validate.Bounds{})
}

func mustWrite(t testing.TB, d Deliverable, run *result.Run, workers int) []byte {
	t.Helper()
	data, err := written(func(b *bytes.Buffer) error { return d.Write(b, run, workers) })
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestDeliverablesSameBytes: any number of workers, and a second time, gives
// the same bytes.
func TestDeliverablesSameBytes(t *testing.T) {
	for name, run := range map[string]*result.Run{"fixture": fixture(), "many": many(3000, 32)} {
		for _, d := range Deliverables(Extras{KML: true, Network: true, Notices: true, Units: true}) {
			one := mustWrite(t, d, run, 1)
			for _, workers := range []int{1, 2, 8} {
				if !bytes.Equal(one, mustWrite(t, d, run, workers)) {
					t.Errorf("%s, %s: %d workers give other bytes than 1", name, d.Name, workers)
				}
			}
		}
	}
}

// full is a writer that fails after n bytes, as a full disk does.
type full struct{ n int }

func (f *full) Write(p []byte) (int, error) {
	if f.n -= len(p); f.n < 0 {
		return 0, errFull
	}
	return len(p), nil
}

var errFull = errors.New("no space left")

// TestDeliverablesReportFailure: a writer that fails early, midway or late makes
// every deliverable fail with its error.
func TestDeliverablesReportFailure(t *testing.T) {
	run := many(3000, 32)
	for _, d := range Deliverables(Extras{KML: true, Network: true, Notices: true, Units: true}) {
		size := len(mustWrite(t, d, run, 2))
		for _, n := range []int{0, size / 2, size - 1} {
			if err := d.Write(&full{n}, run, 2); err != errFull {
				t.Errorf("%s: %v after %d of %d bytes, want the writer's error", d.Name, err, n, size)
			}
		}
	}
}
