package mapfile

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"

	"driftreach/internal/result"
	"driftreach/internal/verify/validate"
)

// TestDeliverablesConform checks every file of the fixture and of an empty batch with package
// validate, and compares the number of features with the run.
func TestDeliverablesConform(t *testing.T) {
	for name, run := range map[string]*result.Run{"fixture": fixture(), "empty": {Quarter: fixture().Quarter, WorksGiven: true}} {
		for _, d := range Deliverables(Extras{KML: true, Network: true, Notices: true, Units: true, Crew: true}) {
			file := made(t, d, run, 2)
			if strings.HasSuffix(file.name, ".svg") {
				continue // no map: TestOrderSVGIsWellFormed
			}
			t.Run(name+"/"+file.name, func(t *testing.T) {
				r := validated(file.name, file.data)
				for _, p := range r.Problems {
					t.Error(p)
				}
				if r.Features != file.records {
					t.Errorf("%d features, the run has %d", r.Features, file.records)
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
	case strings.HasSuffix(name, ".gpkg"):
		return validate.GeoPackage(data)
	case strings.HasSuffix(name, ".gpx"):
		return validate.GPX(data, validate.Bounds{})
	case strings.HasSuffix(name, ".kmz"):
		return validate.KMZ(data, validate.Bounds{})
	}
	return validate.KML(data, validate.Bounds{})
}

// madeFile is the file of a deliverable; it is a Folder that holds one file.
type madeFile struct {
	name    string
	records int
	data    []byte
}

func (f *madeFile) Write(name string, records int, write func(io.Writer) error) error {
	data, err := written(func(b *bytes.Buffer) error { return write(b) })
	*f = madeFile{name, records, data}
	return err
}

// made returns the file of d.
func made(t testing.TB, d Deliverable, run *result.Run, workers int) madeFile {
	t.Helper()
	var f madeFile
	if err := d.Write(&f, run, workers); err != nil {
		t.Fatal(err)
	}
	return f
}

// TestDeliverablesSameBytes: any number of workers, and a second run, give the same bytes.
func TestDeliverablesSameBytes(t *testing.T) {
	for name, run := range map[string]*result.Run{"fixture": fixture(), "many": many(3000, 32)} {
		for _, d := range Deliverables(Extras{KML: true, Network: true, Notices: true, Units: true, Crew: true}) {
			one := made(t, d, run, 1)
			for _, workers := range []int{1, 2, 8} {
				if !bytes.Equal(one.data, made(t, d, run, workers).data) {
					t.Errorf("%s, %s: %d workers give other bytes than 1", name, one.name, workers)
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

// into is a Folder that writes all files to one writer.
type into struct{ io.Writer }

func (w into) Write(_ string, _ int, write func(io.Writer) error) error { return write(w.Writer) }

var errFull = errors.New("no space left")

// TestDeliverablesReportFailure: a writer that fails early, midway or late makes
// every deliverable fail with its error.
func TestDeliverablesReportFailure(t *testing.T) {
	run := many(3000, 32)
	for _, d := range Deliverables(Extras{KML: true, Network: true, Notices: true, Units: true, Crew: true}) {
		file := made(t, d, run, 2)
		size := len(file.data)
		for _, n := range []int{0, size / 2, size - 1} {
			if err := d.Write(into{&full{n}}, run, 2); err != errFull {
				t.Errorf("%s: %v after %d of %d bytes, want the writer's error", file.name, err, n, size)
			}
		}
	}
}
