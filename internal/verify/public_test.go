package verify

import (
	"strings"
	"testing"

	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
)

// A sound public edition has no problem; everything it must not contain is reported separately,
// with its file. The place is that of -12347000, -3839500 in EPSG:6933 by PROJ's cs2cs 9.1.1: a
// corner of 1000 m squares in easting, a middle in northing.
func TestPublicMutantsAreCaught(t *testing.T) {
	const layer = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[-127.9663800,-31.6437552]}}]}`
	tables := map[string]string{
		"stands.csv":     "stand_id,owner,infested_acres\r\na,,0.3\r\nb,,0.1\r\n",
		"points.geojson": layer,
		"stands.geojson": layer,
	}
	told := func(edition string, settings any, outputs []string, name, text string) string {
		kept := map[string][]byte{}
		for n, sound := range tables {
			kept[n] = []byte(sound)
		}
		if name != "" {
			kept[name] = []byte(text)
		}
		m := &mapfile.Manifest{Edition: edition, Settings: settings}
		for _, n := range outputs {
			m.Outputs = append(m.Outputs, mapfile.File{Name: n})
		}
		var r Report
		r.public(kept, m)
		var all []string
		for _, p := range r.Problems {
			all = append(all, p.File+": "+p.Text)
		}
		return strings.Join(all, "\n")
	}
	grid := func(side float64) any { return map[string]any{"public": map[string]any{"grid_m": side}} }
	files := []string{"stands.csv", "points.geojson", "report.html"}
	if got := told(folder.Public, grid(1000), files, "", ""); got != "" {
		t.Errorf("a sound edition: %s", got)
	}
	for _, c := range []struct {
		edition    string
		settings   any
		files      []string
		name, text string
		want       string
	}{
		{"secret", grid(1000), files, "", "", `manifest.json: has an unknown edition: "secret"`},
		{folder.Public, grid(0), files, "", "", "manifest.json: is of a public edition but has no public.grid_m"},
		{folder.Public, nil, files, "", "", "manifest.json: is of a public edition but has no public.grid_m"},
		{folder.Public, grid(1000), []string{"stands.csv", "crew.gpx"}, "", "", "crew.gpx: does not belong in a public edition"},
		{folder.Public, grid(1000), []string{"followup.ics"}, "", "", "followup.ics: does not belong in a public edition"},
		{folder.Public, grid(1000), files, "stands.csv", "stand_id,owner,infested_acres\r\na,,0.3\r\nb,Orla,0.1\r\n", "stands.csv: row 2: a public edition must leave out owner"},
		// 10 m to the east
		{folder.Public, grid(1000), files, "points.geojson", strings.Replace(layer, "-127.9663800", "-127.9662764", 1), "points.geojson: [-127.9662764 -31.6437552] is not on the grid of 1000 m"},
		{folder.Public, grid(1000), files, "stands.geojson", strings.Replace(layer, "-31.6437552", "-31.6438552", 1), "stands.geojson: [-127.96638 -31.6438552] is not on the grid of 1000 m"},
	} {
		if got := told(c.edition, c.settings, c.files, c.name, c.text); got != c.want {
			t.Errorf("told %q, want %q", got, c.want)
		}
	}
	// squares of 7000 m have neither a corner nor a middle there
	if got := told(folder.Public, grid(7000), files, "", ""); strings.Count(got, "is not on the grid of 7000 m") != 2 {
		t.Errorf("another grid: %s", got)
	}
}
