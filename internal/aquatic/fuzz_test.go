package aquatic

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/shape"
	"driftreach/internal/stream"
)

// byRounding is six standard deviations of the effect on an area, in square metres, of rounding corners
// to 1e-7 degrees: a corner moves by up to half a step of 0.0112 m each way, evenly distributed, a
// deviation of 0.0032 m, times half of the line between the neighbouring corners. Five are met once in a
// million outlines, and fuzzing tries more.
func byRounding(area orb.MultiPolygon) float64 {
	squares := 0.0
	for _, polygon := range area {
		for _, ring := range polygon {
			n := len(ring) - 1
			for i := range n {
				beside := float64(earth.Distance(ring[(i+n-1)%n], ring[i+1]))
				squares += beside * beside
			}
		}
	}
	return 6 * 0.0032 / 2 * math.Sqrt(squares)
}

// FuzzWater draws any outline over any stream: no panic, valid zones, drawn with the stated area
// and at least as large as the water, here and at the antimeridian. Each byte is a place on a grid
// of 16 by 16, 40 m apart.
func FuzzWater(f *testing.F) {
	f.Add([]byte{0x22, 0xd2, 0xdd, 0x2d}, []byte{0x70, 0x7f}, uint8(20), false)
	f.Add([]byte{0x22, 0xdd, 0xd2, 0x2d}, []byte{0x70, 0x77, 0x7f}, uint8(0), true)
	f.Add([]byte{0x11, 0x91, 0x99, 0x79, 0x73, 0x33, 0x39, 0x19}, []byte{0x06, 0xf6}, uint8(5), true)
	f.Add([]byte{0x11, 0x11, 0x12, 0x11}, []byte{0x11, 0x11}, uint8(1), false)
	f.Add([]byte{0x22, 0xd2, 0x22, 0x2d}, []byte{0x70, 0x7f}, uint8(20), false)            // long sides
	f.Add([]byte{0x22, 0xdd, 0x00, 0x10}, []byte{0x70, 0x77, 0x7f}, uint8(0), true)        // a spike
	f.Add([]byte{0x22, 0xff, 0x00, 0x10}, []byte{0x22, 0xff, 0x00, 0x10}, uint8(0), false) // a spike that rounding takes away
	f.Fuzz(func(t *testing.T, outline, path []byte, setback uint8, turned bool) {
		if len(outline) > 60 || len(path) > 30 {
			return
		}
		middle := orb.Point{20, -33}
		if turned {
			middle[0] = 180
		}
		frame := earth.NewFrame(middle)
		place := func(b byte) orb.Point {
			p := frame.Inverse(orb.Point{40 * (float64(b>>4) - 7), 40 * (float64(b&15) - 7)})
			return orb.Point{earth.Wrap(p[0]), p[1]}
		}
		ring := orb.Ring{}
		for _, b := range outline {
			ring = append(ring, place(b))
		}
		if len(ring) > 0 {
			ring = append(ring, ring[0])
		}
		line := centerline("a", middle, 8)
		for _, b := range path {
			line.Path = append(line.Path, place(b))
		}
		surfaces, _ := stream.CheckSurfaces([]stream.Surface{{ID: "l", Kind: stream.Lake, Areas: orb.MultiPolygon{{ring}}}}, stream.Options{})
		lines, _ := stream.Check([]stream.Centerline{line}, stream.Options{})
		net, _ := stream.Connect(lines, nil, surfaces, flow.Options{Snap: 1})
		s := DefaultSettings()
		s.Setback = geo.Meters(setback)
		for _, z := range NewWater(net, s).Dissolve(1) {
			if err := shape.Valid(z.Geometry.Polygons()); err != nil {
				t.Fatalf("zone %v: %v", z.WaterBody, err)
			}
			if len(surfaces) > 0 && z.WaterBody == surfaces[0].Name && float64(z.Area) < float64(earth.Area(surfaces[0].Areas))-0.1 {
				t.Fatalf("zone of %g m2 about water of %g", float64(z.Area), float64(earth.Area(surfaces[0].Areas)))
			}
			slack := 0.01 + 1e-5*float64(z.Area) + byRounding(z.Geometry.Polygons())
			for i := range surfaces { // of their spikes nothing may be drawn
				slack += byRounding(surfaces[i].Areas)
			}
			if !(z.Area >= 0) || math.Abs(float64(earth.Area(z.Geometry.Polygons())-z.Area)) > slack {
				t.Fatalf("zone %q of %g m2 is drawn with %g", z.WaterBody, float64(z.Area), float64(earth.Area(z.Geometry.Polygons())))
			}
		}
	})
}
