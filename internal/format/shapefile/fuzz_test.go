package shapefile_test

import (
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// FuzzShapefile reads any shapes with any table.
func FuzzShapefile(f *testing.F) {
	shp, dbf := layers.Shapefile([]orb.Point{{1, 2}, {3, 4}})
	f.Add(shp, dbf)
	stored := testkit.Stored(f, "intake/feet.shp", "intake/feet.dbf")
	f.Add(stored[0], stored[1])
	f.Add(layers.Outlines(3, []orb.Point{{1, 2}, {3, 4}, {5, 4}}), dbf)
	f.Add(layers.Outlines(5, []orb.Point{{0, 0}, {0, 3}, {3, 3}, {0, 0}}, []orb.Point{{1, 2}, {2, 2}, {1, 1}, {1, 2}}), dbf)
	f.Fuzz(func(t *testing.T, shp, dbf []byte) {
		shp = append([]byte("\x00\x00\x27\x0a"), shp[min(4, len(shp)):]...)
		layers.Hold(t, layers.Form{File: "a.shp", Bytes: shp, Beside: map[string][]byte{".dbf": dbf}})
	})
}
