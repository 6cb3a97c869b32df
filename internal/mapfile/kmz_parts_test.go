package mapfile

import (
	"archive/zip"
	"bytes"
	"io"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/result"
	"driftreach/internal/verify/validate"
)

// largeRun has more stands than fit one document, and all other folders.
func largeRun() *result.Run {
	run := many(12*(MostUnasked+1), 8)
	run.Records.Listed, run.StandOf, run.InZone = run.Records.Listed[:100], run.StandOf[:100], run.InZone[:100]
	addOtherFolders(run)
	return run
}

// TestLargeMapsComeInParts: above the limit doc.kml has only links. Every part is KML of less than
// twice partBytes, every stand is in one part, and the links' regions contain what is in the parts.
// The number of workers does not change a byte.
func TestLargeMapsComeInParts(t *testing.T) {
	run := largeRun()
	data, err := written(func(b *bytes.Buffer) error { return writeKMZ(b, run, 1) })
	if err != nil {
		t.Fatal(err)
	}
	again, err := written(func(b *bytes.Buffer) error { return writeKMZ(b, run, 3) })
	if err != nil || !bytes.Equal(data, again) {
		t.Errorf("three workers write other bytes: %v", err)
	}
	if r := validate.KMZ(data, validate.Bounds{}); !r.OK() || r.Features != placemarks(run) {
		t.Errorf("%d features of %d: %q", r.Features, placemarks(run), r.Problems)
	}
	doc := packedDocument(t, data)
	if bytes.Contains(doc, []byte("<Placemark>")) || bytes.Count(doc, []byte("<Region>")) != bytes.Count(doc, []byte("<NetworkLink>")) {
		t.Error("doc.kml has placemarks of its own, or a link without a region")
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	schema, named, parts := schemaFile(t), map[string]int{}, 0
	for _, f := range z.File {
		if !strings.HasPrefix(f.Name, partFolder) {
			continue
		}
		in, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(in)
		if err != nil {
			t.Fatal(err)
		}
		parts++
		if len(text) > 2*partBytes {
			t.Errorf("%s has %d bytes", f.Name, len(text))
		}
		if said := xmllint(t, schema, text); said != "" {
			t.Errorf("%s: %.500s", f.Name, said)
		}
		if bytes.Contains(text, []byte("<Region>")) {
			t.Errorf("%s has regions of its own", f.Name)
		}
		if !strings.HasPrefix(f.Name, partFolder+"stands-") {
			continue
		}
		for _, m := range regexp.MustCompile(`<Data name="stand_id"><value>([^<]+)</value></Data>`).FindAllSubmatch(text, -1) {
			named[string(m[1])]++
		}
	}
	for i := range run.Stands {
		if n := named[run.Stands[i].ID]; n != 1 {
			t.Fatalf("stand %s lies in %d parts", run.Stands[i].ID, n)
		}
	}
	if parts < 10 {
		t.Errorf("%d parts", parts)
	}
}

// TestGDALFollowsParts: GDAL reads each part as a layer, with every stand and the fields that a large map has.
func TestGDALFollowsParts(t *testing.T) {
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		t.Skip("ogrinfo is not installed (gdal-bin): parts are not read by GDAL")
	}
	run := largeRun()
	data, err := written(func(b *bytes.Buffer) error { return writeKMZ(b, run, 2) })
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "map.kmz")
	save(t, file, data)
	out, err := exec.Command("ogrinfo", "-al", "-so", file).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	sum := 0
	for _, m := range regexp.MustCompile(`Feature Count: (\d+)`).FindAllSubmatch(out, -1) {
		n, _ := strconv.Atoi(string(m[1])) // digits only
		sum += n
	}
	if sum != placemarks(run) {
		t.Errorf("GDAL sees %d features of %d", sum, placemarks(run))
	}
	_, layer, _ := strings.Cut(string(out), "Layer name: stands-aquatic-zone-stands-")
	layer, _, _ = strings.Cut(layer, "Layer name:")
	for name, there := range map[string]bool{
		"stand_id": true, "management_status": true, "infested_acres": true, "treat_order": true, "requirements": true, "reach_km": false,
	} {
		if strings.Contains(layer, "\n"+name+": ") != there {
			t.Errorf("GDAL sees %s of the stands: %v, want %v", name, !there, there)
		}
	}
}

// TestNear: eight places on a line and four far away, in groups of at most four with neighbours
// together. A place heavier than a group is alone; no places give no group.
func TestNear(t *testing.T) {
	var bounds []orb.Bound
	for _, x := range []float64{0, 1, 2, 3, 4, 5, 6, 7, 100, 101, 102, 103} {
		bounds = append(bounds, orb.Point{x, 0}.Bound())
	}
	ones := slices.Repeat([]int{1}, 12)
	// halves of weight 6 first, then 3: 0-2, 3-5, then 6 7 100, then the rest
	want := [][]int{{0, 1, 2}, {3, 4, 5}, {6, 7, 8}, {9, 10, 11}}
	if got := near(bounds, ones, 4); !slices.EqualFunc(got, want, slices.Equal) {
		t.Errorf("%v, want %v", got, want)
	}
	ones[5] = 50
	for _, group := range near(bounds, ones, 4) {
		if slices.Contains(group, 5) && len(group) > 1 {
			t.Errorf("a heavy one lies with others: %v", group)
		}
	}
	if got := near(nil, nil, 4); len(got) != 0 {
		t.Errorf("%v of nothing", got)
	}
}
