package verify_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/testkit/quarter"
	"driftreach/internal/verify"
)

// inMemory reads a folder with the files in it.
func inMemory(t *testing.T, dir string) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		text, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		files[name] = &fstest.MapFile{Data: text}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// problems joins the problems of a report, each with its file.
func problems(r verify.Report) string {
	var all []string
	for _, p := range r.Problems {
		all = append(all, p.File+": "+p.Text)
	}
	return strings.Join(all, "\n")
}

// TestFolderOfABatch: a batch as it was written has no problem, every file of it is counted, and the
// batch before is found beside it.
func TestFolderOfABatch(t *testing.T) {
	dir, run, _ := quarter.Two(t)
	beside := os.DirFS(filepath.Dir(dir))
	r, err := verify.Folder(t.Context(), os.DirFS(dir), beside)
	if err != nil || len(r.Problems) > 0 || r.Kind != folder.Batch || r.Quarter != "2026Q2" || r.Version != "1.0" || r.Format != mapfile.Format || r.Edition != "" || r.Earlier != "2026Q1" || r.Batches != 0 {
		t.Errorf("%v: %s %s %s in format %d, edition %q, earlier %s: %s", err, r.Kind, r.Quarter, r.Version, r.Format, r.Edition, r.Earlier, problems(r))
	}
	want := map[string]int{mapfile.StandsFile: len(run.Stands), mapfile.StandsTable: len(run.Stands), mapfile.AbsentFile: 1, mapfile.PointsFile: len(run.Records.Listed), mapfile.CalendarFile: 3, mapfile.WorkFile: 1, "order.svg": 0}
	for _, f := range r.Files {
		if n, is := want[f.Name]; is && f.Features != n || !f.Sound || f.Bytes == 0 {
			t.Errorf("%+v, want %d", f, n)
		}
		delete(want, f.Name)
	}
	if entries := len(inMemory(t, dir)); len(r.Files) != entries-1 || len(want) > 0 {
		t.Errorf("%d files of %d, without %v", len(r.Files), entries-1, want)
	}
	for name, c := range map[string]struct {
		beside fs.FS
		want   verify.Before
		told   string
	}{
		"nothing beside it":       {nil, verify.NotFound, ""},
		"another folder":          {fstest.MapFS{}, verify.NotFound, ""},
		"the batch was run again": {fstest.MapFS{"before/manifest.json": {Data: []byte("{}")}}, verify.Other, ": before is not the batch that this one continues: it was run again, or is another one"},
	} {
		files := inMemory(t, dir)
		rename(t, files, `"out/before/manifest.json"`, `"before/manifest.json"`)
		r, err := verify.Folder(t.Context(), files, c.beside)
		if err != nil || r.Before != c.want || problems(r) != c.told {
			t.Errorf("%s: %v, %v, %q", name, r.Before, err, problems(r))
		}
	}
	files := inMemory(t, dir)
	rename(t, files, `"out/before/manifest.json"`, `"first/manifest.json"`)
	if r, err := verify.Folder(t.Context(), files, beside); err != nil || r.Before != verify.Same {
		t.Errorf("beside it: %v, %v", r.Before, err)
	}
	first, err := verify.Folder(t.Context(), os.DirFS(filepath.Join(filepath.Dir(dir), "first")), beside)
	if err != nil || first.Before != verify.First || len(first.Problems) > 0 || first.Earlier != "" {
		t.Errorf("the first: %v %v %q %s", first.Before, err, first.Earlier, problems(first))
	}
}

// rename replaces a text of the manifest.
func rename(t *testing.T, files fstest.MapFS, from, to string) {
	t.Helper()
	text := string(files[folder.ManifestName].Data)
	if !strings.Contains(text, from) {
		t.Fatalf("the manifest holds no %s", from)
	}
	files[folder.ManifestName] = &fstest.MapFile{Data: []byte(strings.Replace(text, from, to, 1))}
}

// TestFaultsOfABatch: each kind of fault is told with its file, one at a time. The manifest is changed
// with the file, so that the contents themselves are what does not agree.
func TestFaultsOfABatch(t *testing.T) {
	dir, _, _ := quarter.Two(t)
	swap := func(from, to string) func(string) string {
		return func(text string) string { return strings.Replace(text, from, to, 1) }
	}
	for _, c := range []struct{ file, from, to, want string }{
		{mapfile.StandsFile, `"infested_acres":0.00494`, `"infested_acres":0.5`, "stands.geojson: stand 2026Q2-0001: infested_acres 0.5 is more than gross_acres 0.00494"},
		{mapfile.StandsFile, `"gross_acres":0.00494`, `"gross_acres":null`, "stands.geojson: stand 2026Q2-0001: gross_acres is no number"},
		{mapfile.StandsFile, `"aquatic_zone":true`, `"aquatic_zone":false`, "aquatic_zone_stands is 5, and there are 4 in stands.geojson"},
		{mapfile.StandsFile, `"isolated":true`, `"isolated":false`, "isolated is 5, and there are 4 in stands.geojson"},
		{mapfile.StandsFile, `"carried":true`, `"carried":false`, "manifest.json counts 1 carried_stands, and there are 0 in stands.geojson"},
		{mapfile.StandsFile, `"stand_id":"2026Q1-0002"`, `"stand_id":"2026Q2-0001"`, `stands.geojson: stand "2026Q2-0001" is blank or there twice`},
		{mapfile.StandsFile, `"exact_acres":{"gross":0.0049421076`, `"exact_acres":{"gross":0.0059421076`, "stands.geojson: stand 2026Q2-0001: gross_acres is 0.00494, and the exact value is 0.0059421076"},
		{mapfile.StandsFile, `"reach_km":`, `"reach_km":9`, "stands.csv: row "},
		{mapfile.AbsentFile, `"infested_acres":0`, `"infested_acres":-0`, "absent.geojson: stand 2026Q1-0004: infested_acres is -0"},
		{mapfile.AbsentFile, `"exact_acres":{"gross":`, `"exact_acres":{"gross":"a`, "absent.geojson: "},
		{mapfile.SummaryFile, "total,,,2026Q2,5,", "total,,,2026Q2,6,", "summary.csv: stands is 6, and there are 5"},
		{mapfile.SummaryFile, "total,,,2026Q2", "all,,,2026Q2", "summary.csv: the first row is not the total"},
		{mapfile.HistoryFile, "total,,,2026Q2,5,5,5,0.23097", "total,,,2026Q2,5,5,5,0.33097", "history.csv: 2026Q2: gross_acres: the rows of waterBody add up to 0.230970, and the total says 0.330970"},
		{mapfile.HistoryFile, "total,,,2026Q1", "total,,,2026Q2", "history.csv: has 8 rows of 2026Q2, and summary.csv has 7"},
		{mapfile.HistoryFile, "quarter", "season", "history.csv: has no column quarter"},
		{mapfile.HistoryFile, "2026Q2 0.15073", "2026Q2 0.15074", `history.csv: 2026Q2, row 1: last_looks is "2026Q1 0.1; 2026Q2 0.15074", and summary.csv says "2026Q1 0.1; 2026Q2 0.15073"`},
		{mapfile.HistoryFile, "outsideUnits,,,2026Q2,0,", "outsideUnits,,,2026Q2,1,", `history.csv: 2026Q2, row 7: stands is "1", and summary.csv says "0"`},
		{mapfile.FollowupFile, "2026Q1-0003,2026Q2,true,found,treat_again,2026-05-30,,true,31,treat the regrowth again by 2026-05-30,regrowth on 2026-04-01,4", "2026Q1-0003,2026Q2,true,found,treat_again,2026-05-30,,true,31,treat the regrowth again by 2026-05-30,regrowth on 2026-04-01,5", `followup.csv: row 1: treat_order is "5", and stands.csv says "4"`},
		{mapfile.CalendarFile, "END:VCALENDAR", "END:VCOLENDAR", "followup.ics: "},
		{"map.html", "<script", "<skript", "map.html: "},
		{"report.html", "</body>", "<script></script></body>", "report.html: "},
		{"order.svg", "</svg>", "<script/></svg>", "order.svg: "},
		{mapfile.StandsTable, "2026Q2-0001,", "=2026Q2-0001,", "stands.csv: "},
	} {
		other := filepath.Join(t.TempDir(), "second")
		if err := os.CopyFS(other, os.DirFS(dir)); err != nil {
			t.Fatal(err)
		}
		quarter.Relist(t, other, c.file, swap(c.from, c.to))
		r, err := verify.Folder(t.Context(), os.DirFS(other), nil)
		if err != nil || !strings.Contains(problems(r), c.want) {
			t.Errorf("%s, %s: %v, %q, want %q", c.file, c.to, err, problems(r), c.want)
		}
	}
}

// TestFaultsOfAManifest: what the manifest lists is there, once, inside the folder and unchanged, and
// nothing else is there. A folder of another kind or of a later format is no batch.
func TestFaultsOfAManifest(t *testing.T) {
	dir, _, _ := quarter.Two(t)
	for name, c := range map[string]struct {
		change func(files fstest.MapFS)
		want   string
	}{
		"a byte of a file":        {func(files fstest.MapFS) { files["order.csv"].Data[0] ^= 1 }, "order.csv: is not the file that manifest.json lists: it was changed since"},
		"a byte more":             {func(files fstest.MapFS) { files["order.csv"].Data = append(files["order.csv"].Data, ' ') }, "order.csv: is not the file that manifest.json lists: it was changed since"},
		"a file that is gone":     {func(files fstest.MapFS) { delete(files, "order.csv") }, "order.csv: cannot be read: file does not exist"},
		"a folder for a file":     {func(files fstest.MapFS) { files["order.csv"] = &fstest.MapFile{Mode: fs.ModeDir} }, "order.csv: cannot be read: it is no regular file"},
		"a file more":             {func(files fstest.MapFS) { files["notes.txt"] = &fstest.MapFile{Data: []byte("x")} }, "notes.txt: is not listed in manifest.json"},
		"a file more in a folder": {func(files fstest.MapFS) { files["a/notes.txt"] = &fstest.MapFile{Data: []byte("x")} }, "a/notes.txt: is not listed in manifest.json"},
		"a name that leads out":   {func(files fstest.MapFS) { rename(t, files, `"name": "order.svg"`, `"name": "../order.svg"`) }, `manifest.json: lists "../order.svg", which is no name inside the folder`},
		"a file twice":            {func(files fstest.MapFS) { rename(t, files, `"name": "order.svg"`, `"name": "stands.csv"`) }, "manifest.json: lists stands.csv twice"},
		"no stands":               {func(files fstest.MapFS) { rename(t, files, `"name": "stands.geojson"`, `"name": "others.geojson"`) }, "manifest.json: lists no stands.geojson"},
		"no summary":              {func(files fstest.MapFS) { rename(t, files, `"name": "summary.csv"`, `"name": "summery.csv"`) }, "manifest.json: lists no summary.csv"},
		"no quarter":              {func(files fstest.MapFS) { rename(t, files, `"quarter": "2026Q2"`, `"quarter": "2026Q5"`) }, `manifest.json: names no quarter: "2026Q5"`},
		"an unknown form":         {func(files fstest.MapFS) { rename(t, files, `"format_version": "`, `"format_version": "9`) }, "manifest.json: names format_version "},
		"fragments":               {func(files fstest.MapFS) { rename(t, files, `"released": 0.`, `"released": 1.`) }, "manifest.json: the fragments of stage base do not add up: 1.1254"},
		"a count":                 {func(files fstest.MapFS) { rename(t, files, `"isolated_stands": 5`, `"isolated_stands": 4`) }, "summary.csv: manifest.json counts 4 isolated_stands, and there are 5 in stands.geojson"},
		"a number of rows":        {func(files fstest.MapFS) { recount(t, files, "stands.geojson", 9) }, "stands.geojson: holds 5 records, and manifest.json says 9"},
	} {
		files := inMemory(t, dir)
		c.change(files)
		r, err := verify.Folder(t.Context(), files, nil)
		if err != nil || !strings.Contains(problems(r), c.want) {
			t.Errorf("%s: %v, %q, want %q", name, err, problems(r), c.want)
		}
		for _, f := range r.Files { // faults between files are of no one file
			if f.Name == "order.csv" && f.Sound == strings.HasPrefix(c.want, "order.csv: ") {
				t.Errorf("%s: order.csv is sound: %v", name, f.Sound)
			}
		}
	}
	for text, want := range map[string]string{
		"": "it is no finished batch: no manifest.json that can be read in it", "{": "it is no finished batch: ", `{"program":"another"}`: "it is no finished batch: ",
		fmt.Sprintf(`{"program":%q,"version":"1","format":%d}`, folder.Program, mapfile.Format):               "it is no finished batch: manifest.json is not that of a batch, a trend or answers of a chain",
		fmt.Sprintf(`{"program":%q,"version":"1","format":%d,"outputs":[1]}`, folder.Program, mapfile.Format): "it is no finished batch: manifest.json: ",
		fmt.Sprintf(`{"program":%q,"version":"9","format":%d}`, folder.Program, mapfile.Format+1):             fmt.Sprint(mapfile.Format + 1),
	} {
		files := fstest.MapFS{folder.ManifestName: {Data: []byte(text)}}
		if text == "" {
			delete(files, folder.ManifestName)
		}
		_, err := verify.Folder(t.Context(), files, nil)
		newer := (*mapfile.NewerFormatError)(nil)
		if err == nil || !strings.Contains(err.Error(), want) || errors.Is(err, verify.ErrNoBatch) == errors.As(err, &newer) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := verify.Folder(ended, inMemory(t, dir), nil); err == nil {
		t.Error("it went on after it was to stop")
	}
}

// recount changes the number of rows that the manifest has for a file.
func recount(t *testing.T, files fstest.MapFS, name string, rows int) {
	t.Helper()
	var m map[string]any
	if err := json.Unmarshal(files[folder.ManifestName].Data, &m); err != nil {
		t.Fatal(err)
	}
	for _, out := range m["outputs"].([]any) {
		if out := out.(map[string]any); out["name"] == name {
			out["read"] = rows
		}
	}
	text, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	files[folder.ManifestName] = &fstest.MapFile{Data: text}
}
