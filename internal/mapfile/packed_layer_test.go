package mapfile

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/klauspost/compress/flate"

	"driftreach/internal/result"
)

// TestLayersArePackedByWhatTheyHold: layers that are mostly coordinates are packed at a level that takes
// half the time, the others smaller.
func TestLayersArePackedByWhatTheyHold(t *testing.T) {
	text := []byte(strings.Repeat(`[-39.5570118,-30.5474112],[-39.557006,-30.5474364] "treat_order":4259,`, 500))
	for layer, level := range map[string]int{PointsFile: 5, ReachesFile: 5, ZoneFile: 2, NextFile: 2, LookedFile: 2} {
		d := packable(true, layer, "", func(*result.Run) int { return 1 }, func(w io.Writer, _ *result.Run) error {
			_, err := w.Write(text)
			return err
		})
		var want bytes.Buffer // by the library alone
		w, err := flate.NewWriter(&want, level)
		if err != nil {
			t.Fatal(err)
		}
		_, _ = w.Write(text)
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
		if packed := made(t, d, fixture(), 1).data; !bytes.Contains(packed, want.Bytes()) {
			t.Errorf("%s is not packed at level %d", layer, level)
		}
	}
}

// TestManyPointsArePacked: above the limit the layer of points is in an archive, with the same
// bytes as outside one, read by Go's own archive reader and by that of the next batch. The map
// leaves the points out and says where they are. At the limit neither happens.
func TestManyPointsArePacked(t *testing.T) {
	run := many(MostRecords+1, 4)
	run.Stands, run.Reaches = run.Stands[:1], nil
	whole, err := written(func(b *bytes.Buffer) error { return writePoints(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	packed := packedPoints(t, run)
	z, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil || len(z.File) != 1 || z.File[0].Name != PointsFile || z.File[0].UncompressedSize64 != uint64(len(whole)) {
		t.Fatalf("%v: %v", z.File, err)
	}
	entry, err := z.File[0].Open()
	if err != nil {
		t.Fatal(err)
	}
	streamed, err := OpenPacked(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	for name, r := range map[string]io.Reader{"archive/zip": entry, "OpenPacked": streamed} {
		if got, err := io.ReadAll(r); err != nil || !bytes.Equal(got, whole) {
			t.Errorf("%s reads %d bytes of %d: %v", name, len(got), len(whole), err)
		}
	}
	for _, wrong := range []string{"", "PK\x03\x04", strings.Repeat("x", 40)} {
		if _, err := OpenPacked(strings.NewReader(wrong)); err == nil {
			t.Errorf("%.10q is read as an archive", wrong)
		}
	}
	doc := fixtureKML(t, run)
	if bytes.Contains(doc, []byte("rec-0000001")) || !bytes.Contains(doc, fmt.Appendf(nil, "The %d survey points are in points.zip", MostRecords+1)) {
		t.Error("the map holds points, or does not say where they are")
	}
	if !ManyRecords(run) {
		t.Error("they are not many")
	}
	run.Records.Listed = run.Records.Listed[:MostRecords]
	if ManyRecords(run) || !bytes.Contains(fixtureKML(t, run), []byte("rec-0000001")) {
		t.Error("at the limit the map holds no points")
	}
}

// packedPoints returns the archived layer of points of a batch with many records.
func packedPoints(t *testing.T, run *result.Run) []byte {
	t.Helper()
	for _, d := range Deliverables(Extras{Packed: true}) {
		if file := made(t, d, run, 1); file.name == "points.zip" {
			return file.data
		}
	}
	t.Fatal("no points.zip is made")
	return nil
}

// TestGDALReadsPackedPoints: GDAL reads the layer without unpacking the archive.
func TestGDALReadsPackedPoints(t *testing.T) {
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		t.Skip("ogrinfo is not installed (gdal-bin): the archive is not opened with GDAL")
	}
	run := many(300, 4)
	packed := packedPoints(t, run)
	at := filepath.Join(t.TempDir(), "points.zip")
	save(t, at, packed)
	if n := gdalFeatures(t, "/vsizip/"+at); n != len(run.Records.Listed) {
		t.Errorf("GDAL sees %d records of %d", n, len(run.Records.Listed))
	}
}
