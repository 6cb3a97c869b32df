package mapfile

import (
	"bytes"
	"reflect"
	"testing"

	"github.com/paulmach/orb"

	geoshape "driftreach/geo/shape"
	"driftreach/internal/result"
)

// tile returns a square polygon of 0.01 degrees, with a hole if wanted.
func tile(x, y float64, hole bool) orb.Polygon {
	p := orb.Polygon{{{x, y}, {x + 0.01, y}, {x + 0.01, y + 0.01}, {x, y + 0.01}, {x, y}}}
	if hole {
		p = append(p, orb.Ring{{x + 0.002, y + 0.002}, {x + 0.002, y + 0.004}, {x + 0.004, y + 0.004}, {x + 0.002, y + 0.002}})
	}
	return p
}

// An area written polygon by polygon is what it is when all of it is unpacked: with no polygon, one and
// several, with holes, cut for having too many vertices, and across the antimeridian.
func TestPolygonByPolygon(t *testing.T) {
	for name, mp := range map[string]orb.MultiPolygon{
		"none":    {},
		"one":     {tile(1, 1, true)},
		"several": {tile(1, 1, true), tile(2, 1, false), tile(3, -1, true)},
		"across":  {tile(1, 1, true), tile(179.995, 1, false)},
	} {
		zone := geoshape.PackOnSteps(mp, perDegree)
		for _, most := range []int{8, anyVertices} { // eight are too few for a square with a hole, which is cut
			var whole unpacker
			want := whole.unpack(zone, most)
			var got [][][]place
			var u unpacker
			u.each(zone, most, func(rings [][]place) {
				var own [][]place
				for _, ring := range rings {
					own = append(own, append([]place(nil), ring...))
				}
				got = append(got, own)
			})
			if len(want) != len(got) || len(want) > 0 && !reflect.DeepEqual(got, want) {
				t.Errorf("%s, at most %d vertices: %v, want %v", name, most, got, want)
			}
		}
		run := &result.Run{}
		write := func(draw func(c *collection, b []byte) []byte) string {
			var out bytes.Buffer
			c := newCollection(&out, run, result.ZoneTable(run))
			b := draw(c, nil)
			b = c.box.append(b)
			return out.String() + string(b)
		}
		want := write(func(c *collection, b []byte) []byte { return c.outline(b, zone) })
		if got := write(func(c *collection, b []byte) []byte { return c.zone(b, zone) }); got != want {
			t.Errorf("%s as GeoJSON: %s, want %s", name, got, want)
		}
	}
}
