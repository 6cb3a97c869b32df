package verify_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/batch"
	"driftreach/internal/field"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/mapfile"
	"driftreach/internal/testkit/quarter"
	"driftreach/internal/verify"
)

// again delivers a result with every kind of input into another folder, with the workbook or as a public
// edition.
func again(t *testing.T, public bool) string {
	t.Helper()
	_, run, in, s := quarter.DeliverEverything(t)
	dir := filepath.Join(t.TempDir(), "again")
	err := folder.Make(t.Context(), folder.Out{Dir: dir, Kind: folder.Batch, Quarter: in.Quarter.String()}, func(f *folder.Folder) error {
		d := batch.Delivery{Version: "1.0", Settings: s, Inputs: in.Files, Water: in.WaterContent()}
		if public {
			return d.DeliverPublic(f, run, host.Host{})
		}
		d.Extras.Workbook = true
		return d.Deliver(f, run, host.Host{})
	})
	if err != nil {
		t.Fatal(err)
	}
	if r, err := verify.Folder(t.Context(), os.DirFS(dir), nil); err != nil || len(r.Problems) > 0 {
		t.Fatalf("as written: %v %s", err, problems(r))
	}
	return dir
}

// told changes a file of a folder, with its line in the manifest, verifies the folder and puts the file
// back.
func told(t *testing.T, dir, name string, change func(string) string) string {
	t.Helper()
	was, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	quarter.Relist(t, dir, name, change)
	r, err := verify.Folder(t.Context(), os.DirFS(dir), nil)
	if err != nil {
		t.Fatal(err)
	}
	quarter.Relist(t, dir, name, func(string) string { return string(was) })
	return problems(r)
}

// tablesOf returns the names of the tables of a folder.
func tablesOf(t *testing.T, dir string) (all []string) {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(dir, "*.csv"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		all = append(all, filepath.Base(name))
	}
	return all
}

// TestEveryTableIsHeldAgainstItsSheet: a table that is a sheet of the workbook is compared with it,
// whether or not another file repeats its figures.
func TestEveryTableIsHeldAgainstItsSheet(t *testing.T) {
	dir := again(t, false)
	sheets := []string{"stands", "order", "followup", "summary", "reaches", "plan", "plan_quarters", "lineage", "work_done", "notices", "findings", "fields"}
	for _, name := range tablesOf(t, dir) {
		sheet := strings.TrimSuffix(name, ".csv")
		if at := slices.Index(sheets, sheet); at >= 0 {
			sheets = slices.Delete(sheets, at, at+1)
			said := told(t, dir, name, func(text string) string { return "x" + text })
			if want := "tables.xlsx: sheet " + sheet + ", row 1: "; !strings.Contains(said, want) {
				t.Errorf("%s: %q, want %q", name, said, want)
			}
		}
	}
	if len(sheets) > 0 {
		t.Errorf("there is no table for %q", sheets)
	}
}

// TestEveryFileOfAPublicEditionIsLookedAt: a hidden column is found in each table of a public edition,
// and a position off the grid in each layer of stands and records.
func TestEveryFileOfAPublicEditionIsLookedAt(t *testing.T) {
	dir := again(t, true)
	looked := 0
	for _, name := range tablesOf(t, dir) {
		none := false
		said := told(t, dir, name, func(text string) string { // the first column gets another name, and the first row a value in it
			lines := strings.SplitN(text, "\n", 3)
			if none = len(lines) < 3; none {
				return text + " "
			}
			_, others, _ := strings.Cut(lines[0], ",")
			_, values, _ := strings.Cut(lines[1], ",")
			return field.Owner + "," + others + "\nOrla," + values + "\n" + lines[2]
		})
		switch {
		case none:
		case !strings.Contains(said, name+": row 1: a public edition must leave out owner"):
			t.Errorf("%s: %q", name, said)
		default:
			looked++
		}
	}
	if looked < 10 {
		t.Errorf("%d tables", looked)
	}
	first := regexp.MustCompile(`"coordinates":\[*-?[0-9]+\.[0-9]`)
	for _, name := range []string{mapfile.StandsFile, mapfile.AbsentFile, mapfile.PointsFile, mapfile.LookedFile} {
		said := told(t, dir, name, func(text string) string {
			at := first.FindStringIndex(text)
			if at == nil {
				t.Fatalf("%s has no position", name)
			}
			return text[:at[1]] + "7" + text[at[1]:] // some kilometres to the west, or less
		})
		if !strings.Contains(said, name+": ") || !strings.Contains(said, "is not on the grid of") {
			t.Errorf("%s: %q", name, said)
		}
	}
}
