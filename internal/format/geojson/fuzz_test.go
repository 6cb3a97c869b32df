package geojson_test

import (
	"testing"

	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// FuzzGeoJSON reads any text, most of which begins as JSON does.
func FuzzGeoJSON(f *testing.F) {
	var seeds [][]byte
	for _, seed := range []string{`{"type":"Point","coordinates":[1,2]}` + "\n" + `{"type":"Poi`, `{"type":"Feature","geometry":{"type":"LineString","coordinates":[[1,2],[NaN,4]]}}`,
		"[{\"a\":\"\\ud83d\\ude00\\\"}]", `{"features":[1,null,"x",[2],{}]}`, "\x1e{\"properties\":{\"lat\":1,\"lon\":2},\"id\":5.0}\n",
		`{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}},"features":[{"type":"Feature","id":1,"properties":{"n":[1,{"k":"]"}],"t":true,"x":null},"geometry":{"type":"Polygon","coordinates":[[[0,1],[1,1],[1,2],[0,1]]]}}]}`} {
		seeds = append(seeds, []byte(seed))
	}
	layers.FuzzText(f, "GeoJSON", append(seeds, testkit.Stored(f, "handed-in/*.geojson*", "parquet/*.geojson")...)...)
}
