package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/linear"
)

// made is a region as files have it.
type made struct {
	points []orb.Point
	lines  []orb.LineString
}

func makeRegion(t *testing.T, form string, points, lines int) made {
	t.Helper()
	dir := t.TempDir()
	if err := run(points, lines, dir, 3, form); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(dir, "streams.geojson"))
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Features []struct {
			Geometry struct{ Coordinates orb.LineString }
		}
	}
	if err := json.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	var m made
	for _, f := range doc.Features {
		m.lines = append(m.lines, f.Geometry.Coordinates)
	}
	file, err := os.Open(filepath.Join(dir, "points.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		lon, errLon := strconv.ParseFloat(row[2], 64)
		lat, errLat := strconv.ParseFloat(row[3], 64)
		if errLon != nil || errLat != nil {
			t.Fatalf("%v: %v, %v", row, errLon, errLat)
		}
		m.points = append(m.points, orb.Point{lon, lat})
	}
	if len(m.points) != points {
		t.Fatalf("%d points, want %d", len(m.points), points)
	}
	return m
}

// near counts the points that lie within a distance of a stream.
func (m made) near(within geo.Meters) int {
	ix, n := linear.NewIndex(m.lines), 0
	for _, p := range m.points {
		if at, ok := ix.Nearest(p); ok && at.Distance <= within {
			n++
		}
	}
	return n
}

// TestShapesOfSurveys: where the records lie is as each form says.
func TestShapesOfSurveys(t *testing.T) {
	t.Run("far", func(t *testing.T) {
		m := makeRegion(t, "far", 20_000, 100)
		if far := len(m.points) - m.near(20_000); far < 60 || far > 600 {
			t.Errorf("%d of 20000 records are far from every stream, want about 200", far)
		}
		if all := m.near(60_000); all != len(m.points) {
			t.Errorf("%d records lie more than 60 km off", len(m.points)-all)
		}
	})
	t.Run("scattered", func(t *testing.T) {
		m, alone := makeRegion(t, "scattered", 3000, 400), 0
		for i, p := range m.points {
			lonely := true
			for k, q := range m.points {
				if i != k && math.Abs(p[1]-q[1]) < 0.0003 && earth.Distance(p, q) <= 30 {
					lonely = false
					break
				}
			}
			if lonely {
				alone++
			}
		}
		if alone < 300 || alone > 900 {
			t.Errorf("%d of 3000 records stand alone, want about a sixth", alone)
		}
	})
	t.Run("giant", func(t *testing.T) {
		m := makeRegion(t, "giant", 5000, 100)
		middle := earth.Center(m.points)
		for _, p := range m.points {
			// as much ground as the records stand for, in one round heap
			if d := earth.Distance(middle, p); float64(d) > 1.05*math.Sqrt(5000*pointArea/math.Pi) {
				t.Fatalf("a record lies %.0f m from the middle", d)
			}
		}
	})
	t.Run("north", func(t *testing.T) {
		m := makeRegion(t, "north", 3000, 100)
		for i, p := range m.points[1:] {
			if d := earth.Distance(m.points[i], p); d > 30 || len(m.lines) != 1 {
				t.Fatalf("record %d lies %.0f m from the one before, of %d lines", i+1, float64(d), len(m.lines))
			}
		}
		box := orb.MultiPoint(m.points).Bound()
		perLon, perLat := earth.LocalScale(box.Min[1])
		if wide, high := (box.Max[0]-box.Min[0])*perLon, (box.Max[1]-box.Min[1])*perLat; wide > 25 || high < 2900 {
			t.Errorf("%.0f m wide, %.0f m high", wide, high)
		}
	})
}

// TestShapesOfStreams: the streams are as each form says.
func TestShapesOfStreams(t *testing.T) {
	t.Run("fan", func(t *testing.T) {
		m := makeRegion(t, "fan", 100, 700)
		end := m.lines[0][len(m.lines[0])-1]
		for _, path := range m.lines {
			if long := earth.LineLength(path); path[len(path)-1] != end || long < 9900 || long > 20_100 {
				t.Fatalf("a line of %.0f m ends at %v, want %v", long, path[len(path)-1], end)
			}
		}
		if len(m.lines) != 700 || m.near(100) < 50 {
			t.Errorf("%d lines, %d records near them", len(m.lines), m.near(100))
		}
	})
	t.Run("line", func(t *testing.T) {
		m := makeRegion(t, "line", 500, 9)
		if len(m.lines) != 1 || math.Abs(float64(earth.LineLength(m.lines[0]))-300_000) > 1500 || m.near(100) < 400 {
			t.Errorf("%d lines, %.0f m, %d records near it", len(m.lines), earth.LineLength(m.lines[0]), m.near(100))
		}
	})
	t.Run("lattice", func(t *testing.T) {
		m := makeRegion(t, "lattice", 500, 1000)
		ends, starts := map[orb.Point]int{}, map[orb.Point]int{}
		for _, path := range m.lines {
			starts[path[0]]++
			ends[path[len(path)-1]]++
		}
		divide, meet := 0, 0
		for at, n := range starts {
			divide += n / 2
			meet += ends[at] / 2
		}
		// 22 by 22 places: 21 by 21 of them are on neither of the two sides where nothing divides; of the others
		// as many meet, but for the last, where nothing starts
		if len(m.lines) != 2*22*21 || divide != 21*21 || meet != 21*21-1 || m.near(100) != 500 {
			t.Errorf("%d lines, at %d places one divides, at %d two meet, %d records near them", len(m.lines), divide, meet, m.near(100))
		}
	})
	t.Run("braided", func(t *testing.T) {
		r := shapes["braided"].region(dice(1), 1000)
		minor := 0
		for _, s := range r.streams {
			if s.divergence == 2 {
				minor++
			}
		}
		if len(r.streams) != 1000 || minor < 280 || minor > 300 {
			t.Errorf("%d of %d lines are minor paths", minor, len(r.streams))
		}
	})
	t.Run("lakes", func(t *testing.T) {
		dir := t.TempDir()
		if err := run(10, 100, dir, 3, "lakes"); err != nil {
			t.Fatal(err)
		}
		text, err := os.ReadFile(filepath.Join(dir, "water.geojson"))
		var doc struct {
			Features []struct {
				Geometry struct{ Coordinates orb.Polygon }
			}
		}
		if err != nil || json.Unmarshal(text, &doc) != nil || len(doc.Features) != 10 {
			t.Fatalf("%d lakes, want 10: %v", len(doc.Features), err)
		}
		for _, f := range doc.Features {
			if ring := f.Geometry.Coordinates[0]; ring[0] != ring[len(ring)-1] || ring.Orientation() != orb.CCW {
				t.Errorf("a shore does not close, or runs clockwise: %v", ring)
			}
		}
	})
	if run(10, 10, t.TempDir(), 1, "round") == nil {
		t.Error("an unknown shape is taken")
	}
}
