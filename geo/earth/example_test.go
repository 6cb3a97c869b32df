package earth_test

import (
	"fmt"
	"log"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// A degree of the equator is 1/360 of its length, 40,075,016.686 m.
func ExampleDistance() {
	fmt.Printf("%.3f m\n", earth.Distance(orb.Point{10, 0}, orb.Point{11, 0}))
	// Output: 111319.491 m
}

// Planar work is done in metres around a centre: lengths near the centre are in true metres, and
// areas are kept.
func ExampleNewFrame() {
	frame := earth.NewFrame(orb.Point{-128, -38.5})
	square := orb.Polygon{{{0, 0}, {100, 0}, {100, 100}, {0, 100}, {0, 0}}}
	degrees := frame.Unproject(orb.MultiPolygon{square})
	fmt.Printf("%.3f m2 on the ellipsoid\n", earth.Area(degrees))
	// Output: 10000.000 m2 on the ellipsoid
}

// A coordinate system is read from its code, its WKT or its PROJJSON.
func ExampleParseCRS() {
	crs, err := earth.ParseCRS("EPSG:32611")
	if err != nil {
		log.Fatal(err)
	}
	p, err := crs.Degrees(orb.Point{500_000, 0}) // the central meridian, at the equator
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%s: %.6f, %.6f\n", crs.Name, p.Lon(), p.Lat()+0)
	// Output: WGS 84 / UTM zone 11N: -117.000000, 0.000000
}
