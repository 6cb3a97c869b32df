package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"driftreach/geo"
	"driftreach/internal/batch"
	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/observed"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
	"driftreach/internal/testkit/quarter"
)

// A stand's acreage is not a number because of a simulated fault of the program; no known input
// causes this. After the run everything is done as by the command. The exit code is 5, the message
// names the stand, no new folder is written, and an existing batch is unchanged.
func TestAcreageThatIsNoNumberEndsTheBatch(t *testing.T) {
	in := quarter.Of(survey.Quarter{Year: 2026, Number: 3},
		[]byte("occurrenceID,decimalLongitude,decimalLatitude,eventDate,patch_area_m2\na,-40.00012,-33.00101,2026-08-02,90\nb,-40.00012,-33.02101,2026-08-02,90\n"),
		[]byte(`{"type":"FeatureCollection","features":[{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[[-40,-33],[-40.0002,-33.03]]}}]}`))
	s, host := settings.Default(), host.Host{Disk: disk.System()}
	observed, err := observed.Read(t.Context(), in, s, host)
	if err != nil {
		t.Fatal(err)
	}
	run, err := batch.Compute(t.Context(), observed, s, host)
	if err != nil {
		t.Fatal(err)
	}
	parent := t.TempDir()
	deliver := func(name string) (code int, said string) {
		var stderr bytes.Buffer
		p := &program{ctx: t.Context(), stdout: &stderr, stderr: &stderr, disk: disk.System()}
		out := p.out(outFlags{dir: filepath.Join(parent, name)}, folder.Batch, nil)
		out.Quarter = in.Quarter.String()
		err := folder.Make(t.Context(), out, func(f *folder.Folder) error {
			return batch.Delivery{Version: version, Settings: s, Inputs: observed.Files, Water: observed.WaterContent()}.Deliver(f, run, host)
		})
		return p.report(err), stderr.String()
	}
	if code, said := deliver("sound"); code != exitDone {
		t.Fatalf("%d: %s", code, said)
	}
	before, err := os.ReadFile(filepath.Join(parent, "sound", folder.ManifestName))
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), 1e300, -1} {
		run.Stands[1].Infested = geo.SquareMeters(bad)
		for _, name := range []string{"new", "sound"} {
			code, said := deliver(name)
			if code != exitOurs || !strings.Contains(said, "infested_acres of stand "+run.Stands[1].ID+" came to ") || !strings.Contains(said, "hint: nothing was written") {
				t.Errorf("%g: exit code %d, said %q", bad, code, said)
			}
		}
	}
	left, err := os.ReadDir(parent)
	if err != nil || len(left) != 1 || left[0].Name() != "sound" {
		t.Errorf("left behind: %v, %v", left, err)
	}
	if after, err := os.ReadFile(filepath.Join(parent, "sound", folder.ManifestName)); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the batch that stood there is another: %v", err)
	}
}
