package folder

import (
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/disk"
	"driftreach/internal/disk/faulty"
)

// Every disk operation fails once, or is the last before a kill: operation 0, 1, 2 and so on until
// a run completes. Afterwards the folder is either the old one or the new one, byte by byte;
// leftovers beside it are reported; and the next run succeeds and removes them.
func TestEveryOperationFailsOnce(t *testing.T) {
	for _, c := range []struct {
		name                 string
		replaces, noExchange bool
		dead                 bool
	}{
		{"a new folder", false, false, false},
		{"a new folder, killed", false, false, true},
		{"replacing", true, false, false},
		{"replacing, killed", true, false, true},
		{"replacing in two steps", true, true, false},
		{"replacing in two steps, killed", true, true, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := 0
			for ; ; n++ {
				plan := faulty.Plan{At: n, Dead: c.dead, NoExchange: c.noExchange}
				if failed := tryFault(t, plan, c.replaces); failed == "" {
					break
				}
			}
			if n < 20 {
				t.Errorf("only %d operations: the disk is gone round", n)
			}
			t.Logf("%d operations", n)
		})
	}
}

// tryFault runs once on a disk that fails as planned and then on a sound one, and returns the
// operation that failed.
func tryFault(t *testing.T, plan faulty.Plan, replaces bool) string {
	t.Helper()
	parent := t.TempDir()
	dir := filepath.Join(parent, "new", "out")
	if replaces {
		dir = filepath.Join(parent, "out")
		if err := Make(t.Context(), Out{Dir: dir}, fillWith(map[string]string{"a": "old", "sub/b": "old"})); err != nil {
			t.Fatal(err)
		}
	}
	before := tree(t, parent)
	d := faulty.New(disk.System(), plan)
	var warned []string
	fill := fillWith(map[string]string{"a": "new", "sub/c": "new"})
	err := Make(t.Context(), Out{Dir: dir, Disk: d, Warn: func(s string) { warned = append(warned, s) }}, fill)
	failed := d.Failed()
	said := fmt.Sprint(err, warned)
	at := fmt.Sprintf("operation %d, %s: ", plan.At, failed)

	stands, aside := Standing(disk.System(), dir)
	is := folderIs(t, stands)
	switch {
	case err == nil && (is != "new" || aside):
		t.Errorf("%sno error, and the folder is %q", at, is)
	case err != nil && is == "new" && !plan.Dead && !strings.Contains(said, "the new one is in place"):
		t.Errorf("%sthe new folder is in place, and it said %q", at, said)
	case err != nil && is != "new" && strings.Contains(said, "in place"):
		t.Errorf("%sthe folder is %q, and it said %q", at, is, said)
	case is == "" && replaces || is == "broken":
		t.Errorf("%sthe folder is %q after %v", at, is, err)
	case err != nil && !isOutputError(err):
		t.Errorf("%s%v is no trouble of the output", at, err)
	}
	if !plan.Dead {
		for name := range tree(t, parent) {
			top, _, _ := strings.Cut(name, "/")
			if _, ok := before[name]; !ok && top != "out" && is != "new" && !mentions(said, name) {
				t.Errorf("%s%s is left, and it said %q", at, name, said)
			}
		}
	}
	if err := Make(t.Context(), Out{Dir: dir}, fillWith(map[string]string{"a": "next"})); err != nil {
		t.Errorf("%sthe next run: %v", at, err)
	}
	left := slices.Sorted(maps.Keys(tree(t, parent)))
	want := []string{"out/", "out/a", "out/manifest.json"}
	if !replaces {
		want = []string{"new/", "new/out/", "new/out/a", "new/out/manifest.json"}
	}
	if diff := cmp.Diff(want, left); diff != "" {
		t.Errorf("%safter the next run (-want +got):\n%s", at, diff)
	}
	return failed
}

// mentions says whether a message names the path or a folder that contains it.
func mentions(said, name string) bool {
	for _, part := range strings.Split(strings.TrimSuffix(name, "/"), "/") {
		if strings.Contains(said, part) {
			return true
		}
	}
	return false
}

// folderIs returns "old" or "new" for a complete folder of these tests, blank for no folder, and
// "broken" for anything else.
func folderIs(t *testing.T, dir string) string {
	t.Helper()
	o, err := occupantOf(t.Context(), disk.System(), dir)
	switch {
	case err != nil:
		return "broken"
	case o.absent:
		return ""
	case !o.whole():
		return "broken"
	case slices.Contains(o.found, "sub/b"):
		return "old"
	}
	return "new"
}

// If a swap fails after the folders were exchanged, the message says so.
func TestAfterTheSwapItSaysWhatIsTrue(t *testing.T) {
	for _, c := range []struct {
		verb  string
		fails bool
		said  string
	}{
		{"syncdir", true, "the new one is in place, but the disk has not confirmed it (no space left on device); the old one is at"},
		{"remove", false, "the new folder is in place; the old one could not be removed (no space left on device) and is at"},
	} {
		t.Run(c.verb, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "out")
			if err := Make(t.Context(), Out{Dir: dir}, fillWith(map[string]string{"a": "old"})); err != nil {
				t.Fatal(err)
			}
			d := &pastSwap{Disk: disk.System(), verb: c.verb}
			var warned []string
			err := Make(t.Context(), Out{Dir: dir, Disk: d, Warn: func(s string) { warned = append(warned, s) }}, fillWith(map[string]string{"a": "new"}))
			if (err != nil) != c.fails || !strings.Contains(fmt.Sprint(err, warned), c.said) {
				t.Errorf("error %v, warnings %q", err, warned)
			}
			if got := tree(t, dir)["a"]; got != "new" {
				t.Errorf("in place is %q", got)
			}
			old := filepath.Join(filepath.Dir(dir), ".out.driftreach-part")
			if got := tree(t, old)["a"]; got != "old" {
				t.Errorf("at %s is %q", old, got)
			}
		})
	}
}

// pastSwap is a disk on which one kind of operation fails after the folders were exchanged.
type pastSwap struct {
	disk.Disk
	verb string
	past bool
}

func (d *pastSwap) Exchange(one, other string) error {
	err := d.Disk.Exchange(one, other)
	d.past = err == nil
	return err
}

func (d *pastSwap) SyncDir(path string) error {
	if d.past && d.verb == "syncdir" {
		return errFull
	}
	return d.Disk.SyncDir(path)
}

func (d *pastSwap) Remove(path string) error {
	if d.past && d.verb == "remove" {
		return errFull
	}
	return d.Disk.Remove(path)
}

var errFull = errors.New("no space left on device")

// A copy that was set aside is not removed while it may be the last complete one.
func TestTheLastWholeCopyIsKept(t *testing.T) {
	for name, spoil := range map[string]func(t *testing.T, dir string){
		"an empty folder in the place": func(t *testing.T, dir string) { put(t, dir, "x", ""); removeFile(t, dir, "x") },
		"a file is missing":            func(t *testing.T, dir string) { wholeFolder(t, dir, "later"); removeFile(t, dir, "a") },
	} {
		t.Run(name, func(t *testing.T) {
			parent := t.TempDir()
			dir := filepath.Join(parent, "out")
			spoil(t, dir)
			wholeFolder(t, filepath.Join(parent, ".out.driftreach-old"), "old")
			kept := func() string {
				for _, place := range []string{dir, filepath.Join(parent, ".out.driftreach-old")} {
					if o, err := occupantOf(t.Context(), disk.System(), place); err == nil && o.whole() {
						return tree(t, place)["a"]
					}
				}
				return ""
			}
			broken := errors.New("broken")
			fill := func(*Folder) error {
				if kept() != "old" {
					t.Error("while the next run works there is no whole copy")
				}
				return broken
			}
			for _, none := range []bool{false, true} {
				d := faulty.New(disk.System(), faulty.Plan{At: -1, NoExchange: none})
				if err := Make(t.Context(), Out{Dir: dir, Disk: d}, fill); !errors.Is(err, broken) {
					t.Errorf("error %v", err)
				}
				if kept() != "old" {
					t.Error("the last whole copy is gone after a run that failed")
				}
			}
			d := faulty.New(disk.System(), faulty.Plan{At: -1, NoExchange: true})
			if err := Make(t.Context(), Out{Dir: dir, Disk: d}, fillWith(map[string]string{"a": "new"})); err != nil {
				t.Error(err)
			}
			if got := slices.Sorted(maps.Keys(tree(t, parent))); len(got) != 3 || kept() != "new" {
				t.Errorf("at the end: %v", got)
			}
		})
	}
}

func wholeFolder(t *testing.T, dir, text string) {
	t.Helper()
	if err := Make(t.Context(), Out{Dir: dir}, fillWith(map[string]string{"a": text})); err != nil {
		t.Fatal(err)
	}
}

func removeFile(t *testing.T, dir, name string) {
	t.Helper()
	if err := disk.System().Remove(filepath.Join(dir, name)); err != nil {
		t.Fatal(err)
	}
}
