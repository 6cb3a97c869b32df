package malformed

import (
	"fmt"
	"strings"
)

// objects returns GeoJSON texts.
func objects() []Case {
	var all []Case
	add := func(name, text string) {
		all = append(all, Case{Name: "GeoJSON, " + name, Ending: ".geojson", Bytes: []byte(text)})
	}
	feature := func(geometry, properties string) string {
		return `{"type":"FeatureCollection","features":[{"type":"Feature","geometry":` + geometry + `,"properties":` + properties + `}]}`
	}
	point := `{"type":"Point","coordinates":[1,2]}`
	add("a million brackets", strings.Repeat("[", 1_000_000))
	add("a million braces", strings.Repeat(`{"a":`, 1_000_000))
	add("brackets in a property", feature(point, `{"a":`+strings.Repeat("[", 100_000)+`}`))
	add("coordinates nested deep", feature(`{"type":"Point","coordinates":`+strings.Repeat("[", 100_000)+`}`, `{}`))
	add("a hundred thousand properties", feature(point, `{`+properties(100_000)+`}`))
	add("a text of 40 MB", feature(point, `{"a":"`+strings.Repeat("x", 40<<20)+`"}`))
	add("a text never closed, 40 MB", feature(point, `{"a":"`+strings.Repeat("x", 40<<20)))
	add("a name of 20 MB", feature(point, `{"`+strings.Repeat("x", 20<<20)+`":1}`))
	add("half a pair in a text", feature(point, `{"occurrenceID":"\ud83d","b":"\udc00\ud83d"}`))
	add("an escape that is none", feature(point, `{"a":"\q"}`))
	add("an escape cut off", feature(point, `{"a":"\u12`))
	add("a line end in a text", feature(point, "{\"a\":\"x\ny\"}"))
	add("a bare word", feature(point, `{"a":nope}`))
	add("single quotes", strings.ReplaceAll(feature(point, `{}`), `"`, `'`))
	add("a comma too many", feature(point, `{"a":1,}`))
	add("a comma too few", feature(point, `{"a":1 "b":2}`))
	add("a comment", "// finds\n"+feature(point, `{}`))
	add("NaN for a coordinate", feature(`{"type":"Point","coordinates":[NaN,2]}`, `{}`))
	add("a number of a megabyte", feature(`{"type":"Point","coordinates":[`+strings.Repeat("9", 1<<20)+`,2]}`, `{}`))
	add("texts for coordinates", feature(`{"type":"Point","coordinates":["1","2"]}`, `{}`))
	add("one coordinate", feature(`{"type":"Point","coordinates":[1]}`, `{}`))
	add("no coordinates", feature(`{"type":"Point"}`, `{}`))
	add("null coordinates", feature(`{"type":"Point","coordinates":null}`, `{}`))
	add("a line for a point", feature(`{"type":"Point","coordinates":[[1,2],[3,4]]}`, `{}`))
	add("a polygon of two vertices", feature(`{"type":"Polygon","coordinates":[[[1,2],[3,4]]]}`, `{}`))
	add("an empty polygon", feature(`{"type":"Polygon","coordinates":[]}`, `{}`))
	add("a collection of geometries", feature(`{"type":"GeometryCollection","geometries":[`+point+`]}`, `{}`))
	add("a geometry of no kind", feature(`{"type":"Blob","coordinates":[1,2]}`, `{}`))
	add("no geometry", feature(`null`, `{"occurrenceID":"a"}`))
	add("properties that are a list", feature(point, `[1,2]`))
	add("features that are an object", `{"type":"FeatureCollection","features":{}}`)
	add("features that are numbers", `{"type":"FeatureCollection","features":[1,2,3]}`)
	add("two documents in one", feature(point, `{}`)+feature(point, `{}`))
	add("text after the end", feature(point, `{}`)+"x")
	add("a reference system that is none", `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"x"}},"features":[]}`)
	add("a reference system after features", `{"type":"FeatureCollection","features":[{"type":"Feature","geometry":`+point+`,"properties":{}}],"crs":{"type":"name","properties":{"name":"EPSG:32611"}}}`)
	add("no features", `{"type":"FeatureCollection","features":[]}`)
	add("another object", `{"name":"package","version":1}`)
	add("two hundred thousand empty features", `{"type":"FeatureCollection","features":[`+strings.Repeat("{},", 200_000)+`{}]}`)
	return all
}

func properties(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, `"p%d":%d,`, i, i)
	}
	return b.String() + `"z":1`
}
