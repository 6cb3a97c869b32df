package earlier

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/survey"
)

// manifestOf is a manifest of 2026Q1 that lists some files, with changes to its members.
func manifestOf(t *testing.T, files map[string]string, change map[string]any) []byte {
	t.Helper()
	m := map[string]any{"program": folder.Program, "version": "1.0", "format": mapfile.Format, "quarter": "2026Q1", "chain": "c0ffee"}
	var outputs []map[string]any
	for name, text := range files {
		outputs = append(outputs, map[string]any{"name": name, "sha256": fmt.Sprintf("%x", sha256.Sum256([]byte(text))), "bytes": len(text)})
	}
	m["outputs"] = outputs
	maps.Copy(m, change)
	text, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// written makes a folder of these files, with a manifest that lists them.
func written(t *testing.T, files map[string]string, change map[string]any) Folder {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, folder.ManifestName), manifestOf(t, files, change), 0o600); err != nil {
		t.Fatal(err)
	}
	return Folder{Name: "out/2026Q1", Path: dir, Version: "1.0"}
}

var next = survey.Quarter{Year: 2026, Number: 2}

// TestWhatAFolderIs: which folders are a batch to continue, and what is said of the others, each with
// a remedy; by hand.
func TestWhatAFolderIs(t *testing.T) {
	for _, c := range []struct {
		name   string
		change map[string]any
		want   string // of the problem; blank for none
	}{
		{"a batch", nil, ""}, {"an older format", map[string]any{"format": 1}, ""}, {"without a format", map[string]any{"format": nil}, ""},
		{"of another program", map[string]any{"program": "other"}, "the earlier batch out/2026Q1: "}, {"of a later format", map[string]any{"format": mapfile.Format + 1}, "the earlier batch out/2026Q1: "},
		{"a public edition", map[string]any{"edition": folder.Public}, "it is a public edition"}, {"no quarter", map[string]any{"quarter": "2026"}, "names no quarter"},
		{"the same quarter", map[string]any{"quarter": "2026Q2"}, "it is of 2026Q2, which is not before 2026Q2"}, {"a later quarter", map[string]any{"quarter": "2027Q1"}, "it is of 2027Q1, which is not before"},
		{"no JSON within", map[string]any{"outputs": "none"}, "the earlier batch out/2026Q1: "},
	} {
		e, err := open(context.Background(), disk.System(), written(t, nil, c.change), next)
		var said *Error
		if (err == nil) != (c.want == "") || err != nil && (!errors.As(err, &said) || !strings.Contains(err.Error(), c.want) || said.Hint() == "") {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
		if err == nil && (e.quarter.String() != "2026Q1" || e.chain != "c0ffee" || len(e.read) != 1 || e.read[0].Name != "out/2026Q1/"+folder.ManifestName || e.read[0].Read != 1) {
			t.Errorf("%s: %+v", c.name, e)
		}
	}
	if _, err := open(context.Background(), disk.System(), Folder{Name: "nowhere", Path: t.TempDir()}, next); err == nil || !strings.Contains(err.Error(), "no "+folder.ManifestName+" in it") {
		t.Errorf("an empty folder: %v", err)
	}
	one, _ := open(context.Background(), disk.System(), written(t, nil, map[string]any{"chain": nil}), next)
	other, _ := open(context.Background(), disk.System(), written(t, nil, map[string]any{"chain": nil, "version": "2"}), next)
	if one.chain == "" || one.chain == other.chain {
		t.Errorf("batches without a name of their chain begin %q and %q", one.chain, other.chain)
	}
}

// TestFilesAreHeldToTheManifest: a listed file is read whole and noted with its rows; one that is
// another by a byte, longer, shorter, missing or not listed is told with its name.
func TestFilesAreHeldToTheManifest(t *testing.T) {
	const text = "a,b\r\n1,2\r\n3,4\r\n"
	for _, c := range []struct {
		name, now, want string
	}{
		{"as listed", text, ""}, {"another byte", "a,b\r\n1,2\r\n3,5\r\n", "t.csv is not the file that its manifest lists"}, {"longer", text + "5,6\r\n", "t.csv is not the file"}, {"shorter", "a,b\r\n", "t.csv is not the file"}, {"empty", "", "t.csv is not the file"},
	} {
		from := written(t, map[string]string{"t.csv": text}, nil)
		if err := os.WriteFile(filepath.Join(from.Path, "t.csv"), []byte(c.now), 0o600); err != nil {
			t.Fatal(err)
		}
		e, err := open(context.Background(), disk.System(), from, next)
		if err != nil {
			t.Fatal(err)
		}
		got, err := e.text("t.csv")
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
		if err != nil {
			continue
		}
		want := mapfile.File{Name: "out/2026Q1/t.csv", Role: mapfile.PreviousRole, SHA256: fmt.Sprintf("%x", sha256.Sum256([]byte(text))), Bytes: int64(len(text)), Read: 2, Accepted: 2}
		if d := cmp.Diff(want, e.read[len(e.read)-1]); d != "" || string(got) != text {
			t.Errorf("%s: %q %s", c.name, got, d)
		}
		if _, err := e.text("other.csv"); err == nil || !strings.Contains(err.Error(), "lists no other.csv") {
			t.Errorf("not listed: %v", err)
		}
		os.Remove(filepath.Join(from.Path, "t.csv"))
		if _, err := e.text("t.csv"); err == nil || !strings.Contains(err.Error(), "t.csv: ") {
			t.Errorf("gone: %v", err)
		}
	}
}

// TestWhatBecameOfStands: the rows of lineage.csv by the names of their columns, in any order of these;
// none where the batch is the first of its chain.
func TestWhatBecameOfStands(t *testing.T) {
	read := func(files map[string]string) ([]Became, error) {
		return ReadBecame(context.Background(), disk.System(), written(t, files, nil), next)
	}
	got, err := read(map[string]string{mapfile.LineageFile: "visited,change,stand_id,more,previous_id\r\ntrue,grown,a,x,b\r\nfalse,not resurveyed,c,x,c\r\ntrue,new,d,x,\r\n"})
	want := []Became{{"a", "b", "grown", true}, {"c", "c", "not resurveyed", false}, {"d", "", "new", true}}
	if d := cmp.Diff(want, got); d != "" || err != nil {
		t.Errorf("%v %s", err, d)
	}
	if got, err := read(nil); got != nil || err != nil {
		t.Errorf("the first of its chain: %v, %v", got, err)
	}
	if got, err := read(map[string]string{mapfile.LineageFile: "stand_id,change\r\n"}); len(got) != 0 || err != nil {
		t.Errorf("a header alone: %v, %v", got, err)
	}
	for name, text := range map[string]string{"empty": "", "another width": "a,b\r\n1\r\n"} {
		if _, err := read(map[string]string{mapfile.LineageFile: text}); err == nil || !strings.Contains(err.Error(), mapfile.LineageFile+" cannot be read") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestStagesAndWorkAreRead: what was ever mapped, and the work of the chain, with the row that is
// wrong; nothing where the batch has no such file.
func TestStagesAndWorkAreRead(t *testing.T) {
	begin := func(files map[string]string) *opened {
		e, err := open(context.Background(), disk.System(), written(t, files, nil), next)
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	rows, err := begin(map[string]string{mapfile.EverFile: "quarter,stage,stands,acres\r\n2026Q1,live,2,1.5\r\n2026Q1,ever_mapped,3,2.25\r\n"}).ever()
	if err != nil || len(rows) != 2 || rows[1].Stage != "ever_mapped" || rows[1].Stands != 3 || rows[1].Acres.String() != "2.25" {
		t.Errorf("%+v, %v", rows, err)
	}
	for text, want := range map[string]string{"": "it is empty", "quarter,stage,stands,acres\r\n2026Q1,live,many,1\r\n": `no number of stands is "many"`, "quarter,stage,stands,acres\r\n2026Q1,live,2,-1\r\n": `no acreage is "-1"`} {
		if _, err := begin(map[string]string{mapfile.EverFile: text}).ever(); err == nil || !strings.Contains(err.Error(), mapfile.EverFile+": "+want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
	jobs, err := begin(map[string]string{mapfile.WorkFile: "date,key,treated_acres\r\n2026-02-03,k1,0.5\r\n2026-03-04,k2,\r\n"}).jobs()
	if err != nil || len(jobs) != 2 || jobs[0].TreatedAcres != 0.5 || jobs[1].Key != "k2" || jobs[1].Row != 2 || jobs[0].File != "out/2026Q1/"+mapfile.WorkFile {
		t.Errorf("%+v, %v", jobs, err)
	}
	for text, want := range map[string]string{"": "it is empty", "date,key\r\n2026-02-03,k1\r\n2026-02-30,k2\r\n": `row 2: date: "2026-02-30" is no day`, "a,b\r\n1\r\n": "cannot be read"} {
		if _, err := begin(map[string]string{mapfile.WorkFile: text}).jobs(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
	e := begin(nil)
	if rows, err := e.ever(); rows != nil || err != nil {
		t.Errorf("no stages: %v, %v", rows, err)
	}
	if jobs, err := e.jobs(); jobs != nil || err != nil {
		t.Errorf("no work: %v, %v", jobs, err)
	}
}
