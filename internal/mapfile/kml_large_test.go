package mapfile

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"driftreach/internal/result"
	"driftreach/internal/stretch"
	"driftreach/internal/verify/validate"
)

// TestPartsCoverTheSameGround: a polygon with too many vertices, with holes, is divided into parts
// with few enough. Their areas add up to its own: a ring of n corners has n/2 sin(2 pi/n) r2.
func TestPartsCoverTheSameGround(t *testing.T) {
	at := orb.Point{-20.5, -34.25}
	whole := orb.MultiPolygon{{circle(at, 0.05, 20_000, false), circle(orb.Point{-20.51, -34.25}, 0.005, 8000, true), circle(orb.Point{-20.48, -34.24}, 0.01, 8000, true)}}
	parts := parted(whole, 5000)
	if len(parts) < 8 {
		t.Errorf("%d parts of 36,000 vertices", len(parts))
	}
	sum := 0.
	for _, p := range parts {
		if vertices(p) > 5000 {
			t.Errorf("a part has %d vertices", vertices(p))
		}
		sum += planar.Area(p)
	}
	disc := func(n, r float64) float64 { return n / 2 * math.Sin(2*math.Pi/n) * r * r }
	if want := disc(20_000, 0.05) - disc(8000, 0.005) - disc(8000, 0.01); math.Abs(sum-want) > 1e-4*want {
		t.Errorf("the parts have %g, the whole %g", sum, want)
	}
	if few := parted(whole, mostVertices+10_000); len(few) != 1 {
		t.Errorf("a polygon that is small enough comes in %d parts", len(few))
	}
}

// TestLargeMapsHaveRegions: above the limit each placemark has a region that contains its shape,
// and the document is still valid KML; below the limit there are no regions.
func TestLargeMapsHaveRegions(t *testing.T) {
	small := fixtureKML(t, fixture())
	if bytes.Contains(small, []byte("<Region>")) {
		t.Error("a small map has regions")
	}
	run := many(12*(MostUnasked+1), 8)
	run.Records.Listed, run.StandOf, run.InZone = run.Records.Listed[:100], run.StandOf[:100], run.InZone[:100]
	addOtherFolders(run)
	doc := fixtureKML(t, run)
	if r := validate.KML(doc, validate.Bounds{}); !r.OK() {
		t.Error(r.Problems)
	}
	for _, style := range []string{zoneLook().id, workLook().id, absentLook().id, nextLook(true).id, nextLook(false).id} {
		if !bytes.Contains(doc, []byte("<styleUrl>#"+style+"</styleUrl><Region>")) {
			t.Errorf("nothing in the look %s has a region", style)
		}
	}
	if n, want := bytes.Count(doc, []byte("<Region>")), bytes.Count(doc, []byte("<Placemark>")); n != want {
		t.Errorf("%d regions for %d placemarks", n, want)
	}
	// the first stand of many: a circle of 3e-4 degrees, and 1e-4 around it
	want := "<Region><LatLonAltBox><north>-33.9996</north><south>-34.0004</south><east>-19.9996</east><west>-20.0004</west></LatLonAltBox><Lod><minLodPixels>3</minLodPixels></Lod></Region>"
	if !strings.Contains(string(doc), want) {
		t.Errorf("no %s", want)
	}
	cut := bytes.Index(doc, []byte("<name>Survey points</name>"))
	if said := xmllint(t, schemaFile(t), doc); said != "" || cut < 0 {
		t.Errorf("%.500s", said)
	}
}

// addOtherFolders adds features other than stands, numbers, reaches and points: two zones, a notice
// of each kind of work, absent stands, and stretches to survey next.
func addOtherFolders(run *result.Run) {
	few := fixture()
	run.Zones, run.Absent, run.Previous = few.Zones[:2], few.Absent[:1], goneOn().Previous
	run.WorksGiven, run.Works, run.Notices = true, few.Works[:4], few.Notices[:4]
	for i := range 4 {
		state := stretch.Looked
		if i%2 == 0 {
			state = stretch.Never
		}
		s := stretch.Stretch{ID: fmt.Sprintf("L-%d/0", i), Lines: []int32{int32(i)}, Listed: i < 3, Drawn: &stretch.Drawn{Path: run.Reaches[i].Path}}
		s.Last.State = state
		run.Stretches = append(run.Stretches, s)
	}
}

// TestLightMapIsLight: the light map of a run with many stands has fewer features than the limit,
// no areas, the stands first in treatment order, and as many features as stated; it reads back with
// the KML reader. A small map needs no light map.
func TestLightMapIsLight(t *testing.T) {
	run := many(12*1200, 8)
	if !NeedsLight(run) || NeedsLight(fixture()) {
		t.Fatal("a light map is not made where it is needed, or where it is not")
	}
	data, err := written(func(b *bytes.Buffer) error { return writeLightKMZ(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	r := validate.KMZ(data, validate.Bounds{})
	if !r.OK() || r.Features != lightFeatures(run) || r.Features >= fewFeatures {
		t.Errorf("%d features, %d told: %q", r.Features, lightFeatures(run), r.Problems)
	}
	doc := packedDocument(t, data)
	if bytes.Contains(doc, []byte("<Polygon>")) || bytes.Count(doc, []byte("<Point>")) != lightStands {
		t.Errorf("%d points, or areas", bytes.Count(doc, []byte("<Point>")))
	}
	if said := xmllint(t, schemaFile(t), doc); said != "" {
		t.Errorf("%.500s", said)
	}
	for i := range 3 { // three classes of stream, each as one feature
		if n := len(streamOfClass(run, i)); n != 400 {
			t.Errorf("%d pieces of class %d", n, i)
		}
	}
	if n := bytes.Count(doc, []byte("<LineString>")); n != 1200 {
		t.Errorf("%d lines of 1,200 pieces", n)
	}
}

func packedDocument(t *testing.T, data []byte) []byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	f, err := z.Open("doc.kml")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := io.ReadAll(f)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// TestCutOfABox: a box is cut across its longer side, at a coordinate that can be written exactly; by
// hand.
func TestCutOfABox(t *testing.T) {
	for _, c := range []struct {
		box    orb.Bound
		axis   int
		middle float64
	}{
		{orb.Bound{Min: orb.Point{10, 1}, Max: orb.Point{14, 3}}, 0, 12},
		{orb.Bound{Min: orb.Point{10, 1}, Max: orb.Point{12, 5}}, 1, 3},
		{orb.Bound{Min: orb.Point{-8, -2}, Max: orb.Point{-4, 2}}, 0, -6},
	} {
		if axis, middle := cutOf(c.box); axis != c.axis || middle != c.middle {
			t.Errorf("%v is cut at %v across axis %d", c.box, middle, axis)
		}
	}
	_, third := cutOf(orb.Bound{Max: orb.Point{1. / 3, 0.1}})
	if x := third * perDegree; x != math.Round(x) || math.Abs(third-1./6) > 1/float64(perDegree) {
		t.Errorf("cut at %v", third)
	}
}
