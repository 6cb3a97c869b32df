package malformed

import (
	"fmt"
	"strings"
)

func waterCases() []Case {
	const lake = `"water_id":"w","kind":"lake"`
	good := featureOf(`"water_id":"a","kind":"river"`, "Polygon", "["+boxAt(1, 2, 1.1, 2.1)+"]")
	var all []Case
	add := func(name, text string) {
		all = append(all, Case{Name: "water, " + name, Ending: ".geojson", Bytes: []byte(text), Role: "water"})
	}
	one := func(name, kind, coordinates string) { add(name, collection(featureOf(lake, kind, coordinates), good)) }
	ring := func(rings ...string) string { return "[" + strings.Join(rings, ",") + "]" }
	one("a point", "Point", "[1,2]")
	one("a line", "LineString", "[[1,2],[3,4]]")
	one("no ring", "Polygon", "[]")
	one("an empty ring", "Polygon", "[[]]")
	one("a ring of two places", "Polygon", "[[[5,2],[6,2],[5,2]]]")
	one("a ring on one line", "Polygon", "[[[5,2],[6,2],[7,2],[5,2]]]")
	one("a ring that is open", "Polygon", "[[[5,2],[6,2],[6,3],[5,3]]]")
	one("a bow", "Polygon", "[[[5,2],[6,3],[6,2],[5,3],[5,2]]]")
	one("an island outside", "Polygon", ring(boxAt(5, 2, 6, 3), boxAt(7, 2, 8, 3)))
	one("an island larger than the lake", "Polygon", ring(boxAt(5, 2, 6, 3), boxAt(4, 1, 7, 4)))
	one("an island that is the lake", "Polygon", ring(boxAt(5, 2, 6, 3), boxAt(5, 2, 6, 3)))
	one("two parts that overlap", "MultiPolygon", ring(ring(boxAt(5, 2, 6, 3)), ring(boxAt(5.5, 2, 6.5, 3))))
	one("a corner that is no number", "Polygon", "[[[5,2],[6,null],[6,3],[5,2]]]")
	one("a corner in metres", "Polygon", ring(boxAt(500000, 4000000, 500100, 4000100)))
	one("a corner at 0, 0", "Polygon", "[[[0,0],[1,0],[1,1],[0,0]]]")
	one("a corner without end", "Polygon", "[[[5,2],[6,1e999],[6,3],[5,2]]]")
	one("the whole world", "Polygon", ring(boxAt(-180, -90, 180, 90)))
	one("a cap about the pole", "Polygon", ring(boxAt(-180, 80, 180, 90)))
	one("over the antimeridian", "Polygon", "[[[179,2],[-179,2],[-179,3],[179,3],[179,2]]]")
	one("ten thousand crossings", "Polygon", ring(weave(100)))
	one("twenty thousand rings", "Polygon", ring(each(20_000, func(i int) string {
		x := 5 + float64(i)/10_000
		return boxAt(x, 2, x+0.00005, 2.00005)
	})...))
	add("no kind", collection(featureOf(`"water_id":"w"`, "Polygon", ring(boxAt(5, 2, 6, 3))), good))
	add("a kind that is none", collection(featureOf(`"water_id":"w","kind":"bog"`, "Polygon", ring(boxAt(5, 2, 6, 3))), good))
	add("an id of 10 MB", collection(featureOf(`"water_id":"`+strings.Repeat("w", 10<<20)+`","kind":"lake"`, "Polygon", ring(boxAt(5, 2, 6, 3))), good))
	add("no geometry", `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{},"geometry":null},`+good+`]}`)
	add("twenty thousand copies", collection(each(20_000, func(int) string { return featureOf(lake, "Polygon", ring(boxAt(5, 2, 6, 3))) })...))
	add("twenty thousand of one id", collection(each(20_000, func(i int) string {
		return featureOf(lake, "Polygon", ring(boxAt(5, 2, 6+float64(i)/1000, 3)))
	})...))
	add("twenty thousand kinds", collection(each(20_000, func(i int) string {
		return featureOf(fmt.Sprintf(`"water_id":"w%d","kind":"k%d"`, i, i), "Polygon", ring(boxAt(5, 2, 6, 3)))
	})...))
	return all
}
