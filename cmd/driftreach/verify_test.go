package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/verify"
)

// smallBatch makes two batches of three finds on one stream, the second going on
// from the first, with everything that is on request, and returns their folder.
func smallBatch(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"points.csv": "occurrenceID,decimalLongitude,decimalLatitude,patch_area_m2,canopy_cover_percent\n" +
			"p1,-20.5,-34.25,400,80\np2,-20.4999,-34.2501,300,60\np3,-20.49,-34.26,200,50\n",
		"streams.geojson": `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"stream_id":"s1","waterBody":"Long Water"},` +
			`"geometry":{"type":"LineString","coordinates":[[-20.5,-34.25],[-20.49,-34.26],[-20.48,-34.27]]}}]}`,
		"units.geojson": `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"unit_id":"u1"},` +
			`"geometry":{"type":"Polygon","coordinates":[[[-20.51,-34.255],[-20.47,-34.255],[-20.47,-34.24],[-20.51,-34.24],[-20.51,-34.255]]]}}]}`,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
	for _, args := range [][]string{
		{"--quarter", "2026Q2", "--out", "2026Q2"}, {"--quarter", "2026Q3", "--out", "2026Q3", "--previous", "2026Q2", "--gpkg", "--kml", "--xlsx", "--network"},
	} {
		var stderr bytes.Buffer
		p := &program{ctx: t.Context(), stdout: new(bytes.Buffer), stderr: &stderr, disk: disk.System()}
		all := append([]string{"batch", "--points", "points.csv", "--streams", "streams.geojson", "--units", "units.geojson"}, args...)
		if code := p.report(p.run(all)); code != exitDone {
			t.Fatalf("exit code %d: %s", code, stderr.String())
		}
	}
	return dir
}

// inMemory copies a folder.
func inMemory(t *testing.T, dir string) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		out[name] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// forge replaces text in a file and its hash and size in the manifest, as somebody
// would who wants another figure believed.
func forge(t *testing.T, files fstest.MapFS, name, old, new string) {
	t.Helper()
	before := files[name].Data
	if !bytes.Contains(before, []byte(old)) {
		t.Fatalf("%s holds no %q", name, old)
	}
	after := bytes.Replace(before, []byte(old), []byte(new), 1)
	files[name] = &fstest.MapFile{Data: after}
	if name == folder.ManifestName {
		return
	}
	sum := func(data []byte) string { h := sha256.Sum256(data); return hex.EncodeToString(h[:]) }
	manifest := string(files[folder.ManifestName].Data)
	at := strings.Index(manifest, `"name": "`+name+`"`)
	if at < 0 {
		t.Fatalf("the manifest does not list %s", name)
	}
	manifest = manifest[:at] + strings.Replace(manifest[at:], sum(before), sum(after), 1)
	size := strings.Index(manifest[at:], `"bytes": `) + at + len(`"bytes": `)
	end := strings.IndexByte(manifest[size:], ',') + size
	manifest = manifest[:size] + strconv.Itoa(len(after)) + manifest[end:]
	files[folder.ManifestName] = &fstest.MapFile{Data: []byte(manifest)}
}

// A finished batch is sound; every way of changing it is told, by file and figure.
func TestVerify(t *testing.T) {
	dir := smallBatch(t)
	sound := func() fstest.MapFS { return inMemory(t, filepath.Join(dir, "2026Q3")) }
	r, err := verify.Folder(t.Context(), sound(), os.DirFS(dir))
	if err != nil || len(r.Problems) > 0 {
		t.Fatalf("a fresh batch: %v, %v", r.Problems, err)
	}
	if r.Before != verify.Same || r.Earlier != "2026Q2" || r.Quarter != "2026Q3" {
		t.Errorf("%s continues %q: %d", r.Quarter, r.Earlier, r.Before)
	}
	infested := totalOf(t, sound()["summary.csv"].Data, "infested_acres")
	for _, c := range []struct {
		name   string
		change func(fstest.MapFS)
		file   string
		says   string
	}{
		{"a byte of a table", func(f fstest.MapFS) { f["stands.csv"].Data[3] ^= 1 }, "stands.csv", "changed since"},
		{"a file is gone", func(f fstest.MapFS) { delete(f, "reaches.csv") }, "reaches.csv", "cannot be read"},
		{"a file too many", func(f fstest.MapFS) { f["notes.txt"] = &fstest.MapFile{Data: []byte("x")} }, "notes.txt", "not listed"},
		{"a name outside", func(f fstest.MapFS) {
			forge(t, f, folder.ManifestName, `"name": "order.svg"`, `"name": "../order.svg"`)
		}, "manifest.json", "no name inside"},
		{"no stands listed", func(f fstest.MapFS) {
			forge(t, f, folder.ManifestName, `"name": "stands.geojson"`, `"name": "others.geojson"`)
		}, "manifest.json", "lists no stands.geojson"},
		{"a count", func(f fstest.MapFS) { forge(t, f, folder.ManifestName, `"isolated_stands": `, `"isolated_stands": 9`) }, "summary.csv", "isolated_stands"},
		{"fragments", func(f fstest.MapFS) { forge(t, f, folder.ManifestName, `"lost_to_age": `, `"lost_to_age": 1`) }, "manifest.json", "do not add up"},
		{"a total", func(f fstest.MapFS) { forge(t, f, "summary.csv", ","+infested+",", ",9.5,") }, "summary.csv", "gross_acres is 9.5"},
		{"an acreage that is no number", func(f fstest.MapFS) { forge(t, f, "summary.csv", ","+infested+",", ",1e999999999,") }, "summary.csv", "not a figure that this program writes"},
		{"an acreage beyond the Earth", func(f fstest.MapFS) {
			forge(t, f, "stands.geojson", `"infested_acres":0.`, `"infested_acres":999999999999.`)
		}, "stands.geojson", "surface of the Earth"},
		{"an acreage of another footprint", func(f fstest.MapFS) { forge(t, f, "stands.geojson", `"infested_acres":0.`, `"infested_acres":0.9`) }, "stands.geojson", "infested_acres"},
		{"a negative acreage", func(f fstest.MapFS) { forge(t, f, "stands.geojson", `"zone_acres":0.`, `"zone_acres":-0.`) }, "stands.geojson", "below 0"},
		{"a ring that winds the other way", func(f fstest.MapFS) { reverse(t, f) }, "stands.geojson", "wise"},
		{"a formula", func(f fstest.MapFS) { forge(t, f, "stands.csv", "Long Water", "=1+1") }, "stands.csv", "formula"},
		{"a script", func(f fstest.MapFS) { forge(t, f, "report.html", "</body>", "<script></script></body>") }, "report.html", "script"},
		{"a calendar cut off", func(f fstest.MapFS) { forge(t, f, "followup.ics", "END:VCALENDAR\r\n", "") }, "followup.ics", "not closed"},
		{"a map that is no map", func(f fstest.MapFS) { forge(t, f, "map.kml", "</kml>", "") }, "map.kml", "XML"},
		{"a database of another kind", func(f fstest.MapFS) { forge(t, f, "driftreach.gpkg", "GPKG", "XXXX") }, "driftreach.gpkg", "application id"},
		{"a database cut off", func(f fstest.MapFS) {
			forge(t, f, "driftreach.gpkg", string(f["driftreach.gpkg"].Data[8192:]), "")
		}, "driftreach.gpkg", "damaged"},
	} {
		folder := sound()
		c.change(folder)
		r, err := verify.Folder(t.Context(), folder, nil)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		told := false
		for _, p := range r.Problems {
			told = told || p.File == c.file && strings.Contains(p.Text, c.says)
		}
		if !told {
			t.Errorf("%s: %q is not told of %s: %q", c.name, c.says, c.file, r.Problems)
		}
	}
}

// forged is one change of a folder that somebody made sound again, and what is said of it.
type forged struct {
	name, file, old, new string
	at, says             string
}

// told verifies the folder as it is, then after each change, with the folders beside it.
func told(t *testing.T, dir string, beside fs.FS, changes []forged) verify.Report {
	t.Helper()
	sound, err := verify.Folder(t.Context(), inMemory(t, dir), beside)
	if err != nil || len(sound.Problems) > 0 {
		t.Errorf("%s: %v, %v", dir, sound.Problems, err)
	}
	for _, c := range changes {
		files := inMemory(t, dir)
		forge(t, files, c.file, c.old, c.new)
		r, err := verify.Folder(t.Context(), files, beside)
		found := false
		for _, p := range r.Problems {
			found = found || p.File == c.at && strings.Contains(p.Text, c.says)
		}
		if err != nil || !found {
			t.Errorf("%s: %q is not said of %s: %q, %v", c.name, c.says, c.at, r.Problems, err)
		}
	}
	return sound
}

// A trend is held against its series, and its series against the batches beside it.
func TestVerifyTrend(t *testing.T) {
	at := demoToRead(t)
	dir := filepath.Join(at, "trend")
	series := rowsOf(t, dir, "series.csv")
	first := series[0]["live_acres"] // of the total
	trends := rowsOf(t, dir, "trend.csv")
	slope, s := trends[0]["slope"], trends[0]["s"]
	r := told(t, dir, os.DirFS(at), []forged{
		{"a slope", "trend.csv", "," + slope + ",", ",-9.5,", "trend.csv", "row 1: slope is -9.5"},
		{"a sign", "trend.csv", "," + s + ",", ",-99,", "trend.csv", `row 1: s is "-99"`},
		{"a first value", "trend.csv", "," + trends[0]["first_value"] + ",", ",9.5,", "trend.csv", `first_value is "9.5"`},
		{"a number of quarters", "trend.csv", ",8,0,", ",7,0,", "trend.csv", "has 8 values"},
		{"a total", "series.csv", "," + first + ",", ",9.5,", "series.csv", "live_acres"},
		{"a batch that was run again", folder.ManifestName, `"sha256": "`, `"sha256": "0`, "", "was run again"},
		{"a chart with a script", "trend.svg", "</svg>", "<script/></svg>", "trend.svg", "script"},
	})
	if r.Batches != 8 || r.Found != 8 || r.Kind != folder.Trend {
		t.Errorf("%d of %d batches, %s", r.Found, r.Batches, r.Kind)
	}
	// a series that agrees with itself and not with the batches
	files := inMemory(t, dir)
	km := series[0]["reach_at_risk_km"]
	text := string(files["series.csv"].Data)
	forge(t, files, "series.csv", text, strings.ReplaceAll(text, ","+km+",", ",1.5,"))
	alone, err := verify.Folder(t.Context(), files, nil)
	if err != nil || alone.Found != 0 {
		t.Errorf("%d batches without any beside, %v", alone.Found, err)
	}
	beside, err := verify.Folder(t.Context(), files, os.DirFS(at))
	if err != nil || !strings.Contains(problemsOf(beside, "series.csv"), "2024Q4/summary.csv says "+km) {
		t.Errorf("%q, %v", beside.Problems, err)
	}
}

func problemsOf(r verify.Report, file string) string {
	var all []string
	for _, p := range r.Problems {
		if p.File == file {
			all = append(all, p.Text)
		}
	}
	return strings.Join(all, "\n")
}

// The batch before is told apart from one that was run again, and from none.
func TestVerifyTheChain(t *testing.T) {
	dir := smallBatch(t)
	whole := inMemory(t, dir)
	folder, err := fs.Sub(whole, "2026Q3")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		beside fs.FS
		want   verify.Before
		wrong  int
	}{
		{"beside it", whole, verify.Same, 0},
		{"nothing beside it", nil, verify.NotFound, 0},
		{"another folder beside it", fstest.MapFS{}, verify.NotFound, 0},
		{"run again", fstest.MapFS{"2026Q2/manifest.json": {Data: []byte("{}")}}, verify.Other, 1},
	} {
		r, err := verify.Folder(t.Context(), folder, c.beside)
		if err != nil || r.Before != c.want || len(r.Problems) != c.wrong {
			t.Errorf("%s: %d, want %d; %v, %v", c.name, r.Before, c.want, r.Problems, err)
		}
	}
	first, err := verify.Folder(t.Context(), os.DirFS(filepath.Join(dir, "2026Q2")), whole)
	if err != nil || first.Before != verify.First || len(first.Problems) > 0 {
		t.Errorf("the first batch: %d, %v, %v", first.Before, first.Problems, err)
	}
	if _, err := verify.Folder(t.Context(), fstest.MapFS{"manifest.json": {Data: []byte(`{"program":"another"}`)}}, nil); err == nil {
		t.Error("a folder of another program is taken for a batch")
	}
}

// totalOf is a total of the summary.
func totalOf(t *testing.T, summary []byte, column string) string {
	t.Helper()
	lines := strings.Split(string(summary), "\r\n")
	for i, name := range strings.Split(lines[0], ",") {
		if name == column {
			return strings.Split(lines[1], ",")[i]
		}
	}
	t.Fatalf("no column %s", column)
	return ""
}

// reverse turns the first ring of the stands around.
func reverse(t *testing.T, folder fstest.MapFS) {
	t.Helper()
	text := string(folder["stands.geojson"].Data)
	begin := strings.Index(text, `"coordinates":[[[`) + len(`"coordinates":[[`)
	end := strings.Index(text[begin:], "]]") + begin + 1
	places := strings.Split(strings.Trim(text[begin:end], "[]"), "],[")
	for i, j := 0, len(places)-1; i < j; i, j = i+1, j-1 {
		places[i], places[j] = places[j], places[i]
	}
	forge(t, folder, "stands.geojson", text[begin:end], "["+strings.Join(places, "],[")+"]")
}

// An earlier batch whose figures were changed, hashes and all, is refused by file
// and figure, and nothing is written.
func TestEarlierBatchIsNotTrusted(t *testing.T) {
	dir := smallBatch(t)
	sound := inMemory(t, filepath.Join(dir, "2026Q2"))
	infested := totalOf(t, sound["summary.csv"].Data, "infested_acres")
	for _, c := range []struct {
		name, file, old, new string
		says                 []string
	}{
		{"a total", "history.csv", "," + infested + ",", ",9.5,", []string{"history.csv", "9.5"}},
		{"a total that is no number", "history.csv", "," + infested + ",", ",NaN,", []string{"history.csv", "not a figure that this program writes"}},
		{"a total beyond the balance", "history.csv", "," + infested + ",", ",999999999999999999,", []string{"history.csv", "not a figure that this program writes"}},
		{"an acreage of another footprint", "stands.geojson", `"infested":0.`, `"infested":0.0`, []string{"stands.geojson", "infested_acres", "canopy_acres"}},
		{"an acreage beyond the Earth", "stands.geojson", `"gross":0.`, `"gross":1e300,"g":0.`, []string{"stands.geojson", "surface of the Earth"}},
		{"a negative acreage", "stands.geojson", `"canopy":0.`, `"canopy":-0.`, []string{"stands.geojson", "below 0"}},
		{"a count", folder.ManifestName, `"absent_stands": `, `"absent_stands": 9`, []string{"manifest.json", "absent_stands"}},
		{"fragments", folder.ManifestName, `"lost_to_age": `, `"lost_to_age": 1`, []string{"manifest.json", "do not add up"}},
	} {
		folder := fstest.MapFS{}
		for name, file := range sound {
			folder[name] = file
		}
		forge(t, folder, c.file, c.old, c.new)
		for name, file := range folder {
			if err := os.WriteFile(filepath.Join(dir, "2026Q2", name), file.Data, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		var stderr bytes.Buffer
		p := &program{ctx: t.Context(), stdout: new(bytes.Buffer), stderr: &stderr, disk: disk.System()}
		code := p.report(p.run([]string{"batch", "--points", "points.csv", "--streams", "streams.geojson", "--previous", "2026Q2", "--quarter", "2026Q3", "--out", "new"}))
		if code != exitInput {
			t.Errorf("%s: exit code %d", c.name, code)
		}
		for _, want := range c.says {
			if !strings.Contains(stderr.String(), want) {
				t.Errorf("%s: %q is not told: %s", c.name, want, stderr.String())
			}
		}
		if _, err := os.Stat("new"); err == nil {
			t.Errorf("%s: something was written", c.name)
		}
	}
}
