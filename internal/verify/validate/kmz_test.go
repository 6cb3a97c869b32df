package validate

import (
	"archive/zip"
	"bytes"
	"testing"
	"time"
)

// doc is a small document that names one image.
const doc = `<kml xmlns="http://www.opengis.net/kml/2.2"><Document><name>d</name><Style id="s"><IconStyle><Icon><href>a.png</href></Icon></IconStyle></Style>
<Placemark><name>p</name><styleUrl>#s</styleUrl><Point><coordinates>10,20</coordinates></Point></Placemark></Document></kml>`

type entry struct {
	name   string
	text   string
	method uint16
	date   time.Time
}

func packed(t *testing.T, entries ...entry) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, e := range entries {
		//lint:ignore SA1019 as the map has it, without a field of seconds
		w, err := z.CreateHeader(&zip.FileHeader{Name: e.name, Method: e.method, Modified: e.date, ModifiedDate: firstDate})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(e.text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestKMZ: what must be caught in the packing.
func TestKMZ(t *testing.T) {
	good, image := entry{"doc.kml", doc, zip.Deflate, time.Time{}}, entry{"a.png", "x", zip.Store, time.Time{}}
	stored, dated, other := good, good, good
	stored.method = zip.Store
	dated.date = time.Date(2026, 1, 2, 3, 4, 6, 0, time.UTC)
	other.name = "map.kml"
	for _, c := range []struct {
		name string
		file []byte
		ok   bool
	}{
		{"right", packed(t, good, image), true},
		{"image first", packed(t, image, good), false},
		{"not deflated", packed(t, stored, image), false},
		{"dated", packed(t, dated, image), false},
		{"document by another name", packed(t, other, image), false},
		{"image missing", packed(t, good), false},
		{"empty", packed(t), false},
		{"not a zip file", []byte(doc), false},
		{"cut short", packed(t, good, image)[:300], false},
	} {
		r := KMZ(c.file, Bounds{})
		if r.OK() != c.ok {
			t.Errorf("%s: %v", c.name, r.Problems)
		}
		if c.ok && r.Features != 1 {
			t.Errorf("%s: %d placemarks, want 1", c.name, r.Features)
		}
	}
}

// TestKMZDamaged: a flipped byte in the packed document is found by its checksum
// or by what it does to the text.
func TestKMZDamaged(t *testing.T) {
	file := packed(t, entry{"doc.kml", doc, zip.Deflate, time.Time{}}, entry{"a.png", "x", zip.Store, time.Time{}})
	for at := 60; at < 120; at++ {
		bad := bytes.Clone(file)
		bad[at] ^= 0x10
		if KMZ(bad, Bounds{}).OK() {
			t.Errorf("byte %d: not found", at)
		}
	}
}

// TestBoundsHold: boxes by hand, one across the antimeridian.
func TestBoundsHold(t *testing.T) {
	fiji := Bounds{West: 177, South: -20, East: -178, North: -16}
	for _, c := range []struct {
		name   string
		bounds Bounds
		at     position
		want   bool
	}{
		{"no bounds", Bounds{}, position{500, 500}, true},
		{"inside", Bounds{0, 0, 1, 1}, position{0.5, 1}, true},
		{"east of it", Bounds{0, 0, 1, 1}, position{1.5, 0.5}, false},
		{"north of it", Bounds{0, 0, 1, 1}, position{0.5, 1.5}, false},
		{"west side of the line", fiji, position{179, -18}, true},
		{"east side of the line", fiji, position{-179, -18}, true},
		{"far from the line", fiji, position{0, -18}, false},
	} {
		if got := c.bounds.holds(c.at); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// TestReportIsBounded: a file full of trouble lists only the first of it.
func TestReportIsBounded(t *testing.T) {
	r := &Report{}
	for range 3 * limit {
		r.addf("x")
	}
	if len(r.Problems) != limit || r.More() != 2*limit || r.OK() {
		t.Errorf("%d problems listed", len(r.Problems))
	}
}
