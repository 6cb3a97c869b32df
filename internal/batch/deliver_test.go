package batch

import (
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/verify"
)

// sheets is a made-up deliverable of several files: a table and an index of where its
// rows begin, made in one pass, and a sheet of each stream in a folder of its own.
var sheets = mapfile.Deliverable{
	Role: "made-up sheets",
	Write: func(to mapfile.Folder, run *result.Run, _ int) error {
		lines := make([]stream.Centerline, run.CountLines())
		for i := range lines {
			lines[i] = run.Line(int32(i))
		}
		err := to.Write("sheets/lines.csv", len(lines), func(table io.Writer) error {
			return to.Write("sheets/lines.idx", len(lines), func(index io.Writer) error {
				out, at := csv.NewWriter(table), 0
				out.UseCRLF = true
				for i := -1; i < len(lines); i++ {
					id := "id"
					if i >= 0 {
						id = lines[i].ID
						fmt.Fprintln(index, at)
					}
					at += len(id) + len("\r\n")
					if err := out.Write([]string{id}); err != nil {
						return err
					}
				}
				out.Flush()
				return out.Error()
			})
		})
		for _, line := range lines {
			if err != nil {
				return err
			}
			err = to.Write("sheets/streams/"+line.ID+".txt", 1, func(w io.Writer) error {
				_, err := io.WriteString(w, line.Name+"\n")
				return err
			})
		}
		return err
	},
}

// makeWith writes a batch with sheets, or any other, among its deliverables.
func makeWith(t *testing.T, dir string, more ...mapfile.Deliverable) error {
	t.Helper()
	l := link{in: observed.Quarter{Quarter: survey.Quarter{Year: 2026, Number: 3}, Centerlines: chainStreams}}
	run, err := Compute(t.Context(), l.in, chainSettings(), host.Host{Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	return folder.Make(t.Context(), folder.Out{Dir: dir, Kind: folder.Batch, Quarter: "2026Q3"}, func(f *folder.Folder) error {
		d := Delivery{Version: "test", Settings: chainSettings()}
		return d.deliver(f, run, host.Host{Workers: 2}, append(mapfile.Deliverables(d.Extras), more...))
	})
}

// TestDeliverableOfSeveralFiles: the files of one deliverable lie where it said, the
// manifest lists each with what it holds, verify finds them sound and says which was
// changed; a batch that takes the place leaves none behind, and does not take it
// where one was edited.
func TestDeliverableOfSeveralFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	verified := func() verify.Report {
		t.Helper()
		r, err := verify.Folder(t.Context(), os.DirFS(dir), nil)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	if err := makeWith(t, dir, sheets); err != nil {
		t.Fatal(err)
	}
	r, got := verified(), map[string]int{}
	for _, f := range r.Files {
		if strings.HasPrefix(f.Name, "sheets/") {
			got[f.Name] = f.Features
		}
	}
	// three streams: a, b and c
	want := map[string]int{"sheets/lines.csv": 3, "sheets/lines.idx": -1, "sheets/streams/a.txt": -1, "sheets/streams/b.txt": -1, "sheets/streams/c.txt": -1}
	if fmt.Sprint(got) != fmt.Sprint(want) || len(r.Problems) > 0 {
		t.Errorf("verify finds %v, want %v; problems %v", got, want, r.Problems)
	}
	for name, want := range map[string]string{"lines.csv": "id\r\na\r\nb\r\nc\r\n", "lines.idx": "4\n7\n10\n", "streams/c.txt": "Side Water\n"} {
		if text, err := os.ReadFile(filepath.Join(dir, "sheets", name)); string(text) != want {
			t.Errorf("%s holds %q, want %q (%v)", name, text, want, err)
		}
	}

	edited := filepath.Join(dir, "sheets", "streams", "b.txt")
	whole, err := os.ReadFile(edited)
	if err != nil {
		t.Fatal(err)
	}
	put := func(text string) {
		if err := os.WriteFile(edited, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	put("mine\n")
	if r := verified(); len(r.Problems) != 1 || r.Problems[0].File != "sheets/streams/b.txt" {
		t.Errorf("one file was changed, and verify finds %v", r.Problems)
	}
	if err := makeWith(t, dir); err == nil || !strings.Contains(err.Error(), "sheets/streams/b.txt") {
		t.Errorf("an edited file in a subfolder: %v", err)
	}
	put(string(whole))
	if err := makeWith(t, dir); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "sheets")); !os.IsNotExist(err) {
		t.Errorf("the subfolder of the batch before is left: %v", err)
	}
}

// A deliverable writes inside the folder, and no file of another.
func TestDeliverablesKeepToTheirFiles(t *testing.T) {
	for _, name := range []string{"../beside.txt", "sheets/../../beside.txt", "/tmp.txt", `..\beside.txt`, "c:beside.txt", "", "sheets//a", mapfile.StandsFile, folder.ManifestName} {
		parent := t.TempDir()
		stray := mapfile.Deliverable{Role: "stray", Write: func(to mapfile.Folder, _ *result.Run, _ int) error {
			return to.Write(name, 0, func(io.Writer) error { return nil })
		}}
		if err := makeWith(t, filepath.Join(parent, "out"), stray); err == nil {
			t.Errorf("%q was written", name)
		}
		if left, err := os.ReadDir(parent); err != nil || len(left) > 0 {
			t.Errorf("%q left %v (%v)", name, left, err)
		}
	}
}

// TestLongestFirst: deliverables are begun by length, the longest first, and of one length as listed. One
// worker writes them in that order.
func TestLongestFirst(t *testing.T) {
	var begun []string
	named := func(name string, l mapfile.Length) mapfile.Deliverable {
		return mapfile.OneFile(name, name, func(*result.Run) int { return 0 }, func(io.Writer, *result.Run, int) error {
			begun = append(begun, name)
			return nil
		}).Taking(l)
	}
	all := []mapfile.Deliverable{
		named("a", mapfile.Short), named("b", mapfile.Long), named("c", mapfile.Short), named("d", mapfile.Longest), named("e", mapfile.Long),
	}
	err := folder.Make(t.Context(), folder.Out{Dir: filepath.Join(t.TempDir(), "out"), Kind: folder.Batch, Quarter: "2026Q3"}, func(f *folder.Folder) error {
		return Delivery{Version: "test", Settings: chainSettings()}.deliver(f, &result.Run{}, host.Host{Workers: 1}, all)
	})
	if got := strings.Join(begun, " "); err != nil || got != "d b e a c" {
		t.Errorf("begun: %s (%v)", got, err)
	}
	for _, d := range mapfile.Deliverables(mapfile.Extras{GeoPackage: true, KML: true, Light: true, SurveyNext: true}) {
		if slices.Contains(strings.Fields(d.Role), "map") && d.Length == mapfile.Short && !strings.HasPrefix(d.Role, "findings") {
			t.Errorf("%s is begun with the tables", d.Role)
		}
	}
}
