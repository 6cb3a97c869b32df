package mapfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"testing"

	"github.com/paulmach/orb"

	geoshape "driftreach/geo/shape"
)

// large returns a zone of n separate rings of 128 segments: about 3 KB of text each.
func large(n int) orb.MultiPolygon {
	var mp orb.MultiPolygon
	for k := range n {
		mp = append(mp, orb.Polygon{circle(orb.Point{-20 + 0.01*float64(k), -34}, 1e-3, 128, false)})
	}
	return mp
}

// TestLargeFeature: a feature many times larger than the buffer is written whole, in pieces.
func TestLargeFeature(t *testing.T) {
	run := fixture()
	run.Zones[0].Geometry = geoshape.PackOnSteps(large(200), perDegree)
	var out pieces
	if err := writeZone(&out, run); err != nil {
		t.Fatal(err)
	}
	if out.longest > 2*flushAt {
		t.Errorf("%d bytes written at once", out.longest)
	}
	var read struct {
		Features []struct {
			Geometry struct{ Coordinates [][][][2]float64 }
		}
	}
	first, _, _ := bytes.Cut(out.text.Bytes(), []byte(",\n"))
	if err := json.Unmarshal(append(first, "]}"...), &read); err != nil {
		t.Fatal(err)
	}
	if got := len(read.Features[0].Geometry.Coordinates); got != 200 {
		t.Errorf("%d polygons, want 200", got)
	}
}

// TestLargeFeatureFails: an error in the middle of a feature is returned.
func TestLargeFeatureFails(t *testing.T) {
	run := fixture()
	run.Zones[0].Geometry = geoshape.PackOnSteps(large(200), perDegree)
	full := errors.New("full")
	if err := writeZone(&pieces{limit: 3 * flushAt, err: full}, run); !errors.Is(err, full) {
		t.Errorf("error %v", err)
	}
}

// pieces stores what is written and the size of the largest piece; it fails beyond a limit.
type pieces struct {
	text    bytes.Buffer
	longest int
	limit   int
	err     error
}

func (p *pieces) Write(b []byte) (int, error) {
	p.longest = max(p.longest, len(b))
	if p.err != nil && p.text.Len()+len(b) > p.limit {
		return 0, p.err
	}
	return p.text.Write(b)
}
