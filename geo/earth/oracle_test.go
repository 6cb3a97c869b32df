package earth

import (
	"bufio"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// oracleRow is a line of a file in testdata/earth, all of them written by
// scripts/oracle_earth.py from the programs named in their first line.
type oracleRow struct {
	name string
	v    []float64
}

// oracle returns the rows of a file; named tells whether the first word is a name.
func oracle(t *testing.T, file string, named bool) []oracleRow {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "earth", file))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var rows []oracleRow
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		words := strings.Fields(lines.Text())
		if words[0] == "#" {
			continue
		}
		var row oracleRow
		if named {
			row.name, words = words[0], words[1:]
		}
		for _, w := range words {
			v, err := strconv.ParseFloat(w, 64)
			if err != nil {
				t.Fatal(err)
			}
			row.v = append(row.v, v)
		}
		rows = append(rows, row)
	}
	if lines.Err() != nil || len(rows) < 100 {
		t.Fatalf("%s: %d rows, %v", file, len(rows), lines.Err())
	}
	return rows
}

// near fails unless got is within tolerance of want.
func near(t interface{ Fatalf(string, ...any) }, what string, got, want, tolerance float64) {
	if !(math.Abs(got-want) <= tolerance) {
		t.Fatalf("%s = %.12g, want %.12g, off by %.3g, allowed %.3g", what, got, want, got-want, tolerance)
	}
}

// degreesOff returns roughly the distance in metres between two positions in degrees, with
// longitudes as given.
func degreesOff(p, q orb.Point) float64 {
	mLon, mLat := LocalScale(p[1])
	return math.Hypot((p[0]-q[0])*mLon, (p[1]-q[1])*mLat)
}

// position draws a point between south and north, including the ends and the antimeridian.
func position(south, north float64) *rapid.Generator[orb.Point] {
	return rapid.Custom(func(t *rapid.T) orb.Point {
		lon := rapid.OneOf(rapid.Float64Range(-180, 180), rapid.SampledFrom([]float64{-180, 180, 0, 179.9999, -179.9999})).Draw(t, "lon")
		lat := rapid.OneOf(rapid.Float64Range(south, north), rapid.SampledFrom([]float64{south, north})).Draw(t, "lat")
		return orb.Point{lon, lat}
	})
}

// offset draws a point up to radius metres from p along a geodesic; its longitude continues from
// that of p.
func offset(t *rapid.T, p orb.Point, radius float64) orb.Point {
	azi := rapid.Float64Range(-180, 180).Draw(t, "azimuth")
	share := rapid.Float64Range(0, 1).Draw(t, "share")
	q, _ := WGS84.Direct(p, azi, metersOf(radius*share))
	return q
}
