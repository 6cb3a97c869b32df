package earlier_test

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/mapfile"
	"driftreach/internal/testkit/quarter"
)

// replaced returns what replaces the first text that a pattern matches.
func replaced(pattern, by string) func(string) string {
	re := regexp.MustCompile(pattern)
	return func(text string) string {
		at := re.FindStringSubmatchIndex(text)
		if at == nil {
			return text
		}
		return text[:at[0]] + string(re.ExpandString(nil, by, text, at)) + text[at[1]:]
	}
}

// swapped exchanges two lines of a file, counted from 0.
func swapped(a, b int) func(string) string {
	return func(text string) string {
		lines := strings.SplitAfter(text, "\n")
		x, y := strings.TrimRight(lines[a], ",\r\n"), strings.TrimRight(lines[b], ",\r\n")
		lines[a], lines[b] = y+lines[a][len(x):], x+lines[b][len(y):]
		return strings.Join(lines, "")
	}
}

func nothing(string) string { return "" }

// copied makes a folder like another.
func copied(t *testing.T, dir string) string {
	t.Helper()
	to := filepath.Join(t.TempDir(), "copy")
	if err := os.CopyFS(to, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	return to
}

// TestWhatABatchMustHold: a batch whose files agree with its manifest, but not with each other or with
// what a batch can be, is refused with the file, what is wrong and a remedy. One fault at a time.
func TestWhatABatchMustHold(t *testing.T) {
	dir, _, in := quarter.Two(t)
	for _, c := range []struct {
		name, file string
		change     func(string) string
		want       string
	}{
		{"a stand of the map is gone too", mapfile.AbsentFile, replaced(`"stand_id":"2026Q1-0004"`, `"stand_id":"2026Q1-0001"`), "stand 2026Q1-0001 is in it twice"},
		{"a stand without records", mapfile.PointsFile, replaced(`"stand_id":"2026Q1-0003"`, `"stand_id":"2026Q1-0001"`), "points.geojson has no record of stand 2026Q1-0003"},
		{"records out of order", mapfile.PointsFile, swapped(1, 2), "points.geojson: the records are not in the order of their ids"},
		{"a record without an id", mapfile.PointsFile, replaced(`"occurrenceID":"a1"`, `"occurrenceID":""`), "points.geojson: a record has no id"},
		{"a record of another day", mapfile.PointsFile, replaced(`"eventDate":"2026-[0-9-]+"`, `"eventDate":"2026-13-01"`), "points.geojson: record a1: "},
		{"a record of no quarter", mapfile.PointsFile, replaced(`"carried_from":"2026Q1"`, `"carried_from":"2026Q7"`), "points.geojson: record d1: "},
		{"a record of another status", mapfile.PointsFile, replaced(`"management_status":"untreated"`, `"management_status":"ill"`), `record a1: no status is "ill"`},
		{"an outline that is none", mapfile.PointsFile, replaced(`"patch_outline":"MULTIPOLYGON`, `"patch_outline":"POLYGON`), "record b1: its patch_outline cannot be read"},
		{"a stand that is larger than its ground", mapfile.StandsFile, replaced(`"gross":[0-9.]+`, `"gross":0.001`), "stands.geojson: stand 2026Q2-0001: infested_acres 0.0049421076 is more than gross_acres 0.001"},
		{"a stand of another status", mapfile.StandsFile, replaced(`"management_status":"untreated"`, `"management_status":"ill"`), `no status is "ill"`},
		{"a stand of no quarter", mapfile.StandsFile, replaced(`"carried_from":"2026Q1"`, `"carried_from":"2026Q7"`), "stands.geojson: stand 2026Q1-0005: "},
		{"a stand gone since no quarter", mapfile.AbsentFile, replaced(`"absent_since":"2026Q2"`, `"absent_since":"spring"`), "absent.geojson: stand 2026Q1-0004: "},
		{"a stand first found on no day", mapfile.StandsFile, replaced(`"first_detected":"[0-9-]+"`, `"first_detected":"May"`), `stands.geojson: stand 2026Q2-0001: "May" is no day`},
		{"a stand last found on no day", mapfile.StandsFile, replaced(`"last_detected":"[0-9-]+"`, `"last_detected":"May"`), `stands.geojson: stand 2026Q2-0001: "May" is no day`},
		{"a history without a row", mapfile.HistoryFile, func(text string) string { return strings.SplitAfter(text, "\n")[0] }, "history.csv has no summary in it"},
		{"a history that is none", mapfile.HistoryFile, func(text string) string { return text + "a\r\n" }, "history.csv: record on line"},
		{"a history without quarters", mapfile.HistoryFile, replaced("quarter", "season"), "history.csv has no column quarter"},
		{"a history of no quarter", mapfile.HistoryFile, replaced(",2026Q1,", ",2026Q9,"), "history.csv: row 1 is out of order"},
		{"a history out of order", mapfile.HistoryFile, replaced(",2026Q1,", ",2026Q3,"), "history.csv: row 2 is out of order"},
		{"a history that ends before", mapfile.HistoryFile, func(text string) string { return text[:strings.Index(text, "\ntotal,,,2026Q2")+1] }, "history.csv ends with 2026Q1, and the batch is of 2026Q2"},
		{"a total that is not that of the stands", mapfile.HistoryFile, replaced(`(total,,,2026Q2,5,5,5,0.23097,)0.23`, "${1}0.24"), "history.csv: "},
		{"visits that are none", mapfile.FollowupFile, replaced("stand_id", "stand"), "followup.csv: "},
		{"a calendar that is none", mapfile.CalendarFile, replaced("UID:", "UDI:"), "followup.ics: an event has no UID"},
		{"changes that are none", mapfile.ChangesFile, replaced("stand_id", "stand"), "stand_changes.csv: "},
		{"stages that are none", mapfile.EverFile, replaced(",live,5,", ",live,five,"), `ever_mapped.csv: `},
		{"work on no day", mapfile.WorkFile, replaced("2026-06-20", "2026-06-31"), "work_done.csv: row 1: date: "},
		{"a stretch without banks", mapfile.NextFile, replaced(`"banks":`, `"bonks":`), "survey_next.geojson: line 2: the stretch says nothing of its banks"},
		{"ground that is none", mapfile.LookedFile, replaced(`"coordinates":\[\[\[`, `"coordinates":[[[a`), "looked_at.geojson: "},
	} {
		other := copied(t, dir)
		quarter.Relist(t, other, c.file, c.change)
		_, err := earlier.Read(context.Background(), quarter.FolderAt(other), quarter.Next(in), host.Host{})
		var said *earlier.Error
		if !errors.As(err, &said) || !strings.HasPrefix(err.Error(), "the earlier batch out/before: ") || !strings.Contains(err.Error(), c.want) || !strings.Contains(said.Hint(), "run that quarter again") {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// TestManifestAgreesWithItsBatch: the numbers of stands in the manifest are those of the files, and its
// fragments add up.
func TestManifestAgreesWithItsBatch(t *testing.T) {
	dir, _, in := quarter.Two(t)
	for change, want := range map[[2]string]string{
		{`"stands": 5`, `"stands": 6`}:               "manifest.json counts 6 stands, and there are 5",
		{`"absent_stands": 1`, `"absent_stands": 2`}: "manifest.json counts 2 absent_stands, and there are 1",
		{`"stands": 5,`, ``}:                         "", // an older batch does not count them
		{`"released": `, `"released": 9`}:            "manifest.json: ",
		{`"chain": `, `"chained": `}:                 "",
	} {
		other := copied(t, dir)
		path := filepath.Join(other, folder.ManifestName)
		text, err := os.ReadFile(path)
		if changed := strings.Replace(string(text), change[0], change[1], 1); err != nil || changed == string(text) || os.WriteFile(path, []byte(changed), 0o600) != nil {
			t.Fatal(change[0], err)
		}
		_, err = earlier.Read(context.Background(), quarter.FolderAt(other), quarter.Next(in), host.Host{})
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", change[1], err, want)
		}
	}
}

// TestBatchesOfOlderVersions: a batch from before a file was written goes on without it, and what is
// not known is told: the ground surveyed is that about its stands and of what was not found there.
func TestBatchesOfOlderVersions(t *testing.T) {
	dir, run, in := quarter.Two(t)
	without := func(names ...string) *earlier.Batch {
		other := copied(t, dir)
		for _, name := range names {
			quarter.Relist(t, other, name, nothing)
		}
		return read(t, other, quarter.Next(in))
	}
	p := without(mapfile.LookedFile)
	if len(p.Findings) != 1 || !strings.Contains(p.Findings[0].Message, "lists no looked_at.geojson; of what was looked at, the ground about its 6 stands is taken and that of its 1 records of nothing found") {
		t.Errorf("%+v", p.Findings)
	}
	for _, place := range [][2]float64{{3, 0}, {803, -300}, {405, -400}} {
		if !p.Looked.Holds(quarter.At(place[0], place[1])) {
			t.Errorf("%v was surveyed", place)
		}
	}
	if p.Looked.Holds(quarter.At(-700, 0)) {
		t.Error("far from every stand the ground was surveyed")
	}
	p = without(mapfile.NextFile)
	if p.Stretches != nil || len(p.Findings) != 1 || !strings.HasPrefix(p.Findings[0].Message, "the batch before lists no survey_next.geojson;") {
		t.Errorf("%+v, %+v", p.Stretches, p.Findings)
	}
	p = without(mapfile.ChangesFile)
	if len(p.LookChanges) != 2*(len(run.Stands)+len(run.Absent)) || !p.LookChanges[0].Shared {
		t.Errorf("%d traces of stands", len(p.LookChanges))
	}
	if p = without(mapfile.LineageFile); p.LookChanges != nil {
		t.Errorf("the first of its chain has %d changes", len(p.LookChanges))
	}
	for _, name := range []string{mapfile.StandsFile, mapfile.AbsentFile, mapfile.PointsFile, mapfile.HistoryFile, mapfile.FollowupFile, mapfile.CalendarFile} {
		other := copied(t, dir)
		quarter.Relist(t, other, name, nothing)
		_, err := earlier.Read(context.Background(), quarter.FolderAt(other), quarter.Next(in), host.Host{})
		if err == nil || !strings.Contains(err.Error(), "manifest.json lists no "+name) {
			t.Errorf("without %s: %v", name, err)
		}
	}
}

// TestOfAnotherVersion: what another version of the program made is measured again from its records,
// since that version may have mapped stands otherwise, and its reach is not compared.
func TestOfAnotherVersion(t *testing.T) {
	dir, _, in := quarter.Two(t)
	from := quarter.FolderAt(dir)
	from.Version = "1.1"
	p, err := earlier.Read(context.Background(), from, quarter.Next(in), host.Host{})
	if err != nil || !p.Restated || !p.Elsewhere || strings.Join(p.ReachApart, "") != "version 1.0" {
		t.Fatalf("%v: restated %v, elsewhere %v, apart %v", err, p.Restated, p.Elsewhere, p.ReachApart)
	}
	same := read(t, dir, quarter.Next(in))
	for k := range p.Known {
		if got, want := p.Known[k].Infested.Acres(), same.Known[k].Infested.Acres(); math.Abs(float64(got-want)) > 1e-4 {
			t.Errorf("%s: %v acres, want %v", p.Known[k].ID, got, want)
		}
	}
	now := quarter.Next(in)
	now.Settings.Stands.MinPoints = -1
	if _, err := earlier.Read(context.Background(), quarter.FolderAt(dir), now, host.Host{}); err == nil {
		t.Error("settings that no batch takes")
	}
}

// TestColumnsOfOldNames: a history whose columns had other names then is read by the present ones, and
// this is told.
func TestColumnsOfOldNames(t *testing.T) {
	dir, _, in := quarter.Two(t)
	quarter.Relist(t, dir, mapfile.HistoryFile, replaced(",treated_stands_acres,", ",treated_acres,"))
	p := read(t, dir, quarter.Next(in))
	if len(p.Findings) != 1 || !strings.HasPrefix(p.Findings[0].Message, "an earlier version named columns otherwise: treated_acres is now treated_stands_acres; they were read") {
		t.Errorf("%+v", p.Findings)
	}
	if !slices.Contains(p.History.Columns, "treated_stands_acres") || slices.Contains(p.History.Columns, "treated_acres") {
		t.Error(p.History.Columns)
	}
}

// TestQuarterOfABatch: the quarter that another continues is read from its manifest alone.
func TestQuarterOfABatch(t *testing.T) {
	dir, _, _ := quarter.Two(t)
	h := host.Host{}
	got, err := earlier.QuarterOf(context.Background(), h.Storage(), quarter.FolderAt(dir), quarter.Last.Next())
	if err != nil || got != quarter.Last {
		t.Errorf("%v, %v", got, err)
	}
	if _, err := earlier.QuarterOf(context.Background(), h.Storage(), quarter.FolderAt(dir), quarter.Last); err == nil {
		t.Error("a batch continues itself")
	}
	if _, err := earlier.QuarterOf(context.Background(), h.Storage(), quarter.FolderAt(filepath.Join(dir, "none")), quarter.Last); err == nil || errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no folder: %v", err)
	}
	if moved := quarter.FolderAt(dir).In("elsewhere"); moved.Path != "elsewhere" || moved.Name != "out/before" || moved.Version != "1.0" {
		t.Errorf("%+v", moved)
	}
}

// TestPackedLayers: a layer that is packed in an archive is read as the plain one, and an archive that is
// none is refused.
func TestPackedLayers(t *testing.T) {
	dir, _, in := quarter.Two(t)
	plain := read(t, dir, quarter.Next(in))
	layers := []string{mapfile.PointsFile, mapfile.LookedFile, mapfile.NextFile}
	for _, broken := range []bool{false, true} {
		other := copied(t, dir)
		manifest := filepath.Join(other, folder.ManifestName)
		for _, layer := range layers {
			quarter.Relist(t, other, layer, func(text string) string {
				var packed bytes.Buffer
				z := zip.NewWriter(&packed)
				entry, err := z.Create(layer)
				if err == nil {
					_, err = entry.Write([]byte(text))
				}
				if err := errors.Join(err, z.Close()); err != nil {
					t.Fatal(err)
				}
				if broken {
					return packed.String()[1:]
				}
				return packed.String()
			})
			text, err := os.ReadFile(manifest)
			named := strings.Replace(string(text), `"`+layer+`"`, `"`+mapfile.PackedName(layer)+`"`, 1)
			if err := errors.Join(err, os.WriteFile(manifest, []byte(named), 0o600), os.Rename(filepath.Join(other, layer), filepath.Join(other, mapfile.PackedName(layer)))); err != nil {
				t.Fatal(err)
			}
		}
		p, err := earlier.Read(context.Background(), quarter.FolderAt(other), quarter.Next(in), host.Host{})
		if broken {
			if err == nil || !strings.Contains(err.Error(), mapfile.PackedName(mapfile.PointsFile)+": ") {
				t.Errorf("a broken archive: %v", err)
			}
			continue
		}
		if err != nil || len(p.Records) != len(plain.Records) || len(p.Stretches.Stretches) != len(plain.Stretches.Stretches) || !p.Looked.Holds(quarter.At(3, 0)) || len(p.Findings) != 0 {
			t.Errorf("%v: %d records, %v", err, len(p.Records), p.Findings)
		}
	}
}
