package folder

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"driftreach/internal/disk"
	"driftreach/internal/disk/faulty"
)

// refuses compares an error about the output whole: why, and what to do.
func refuses(t *testing.T, name string, err error, why, remedy string) {
	t.Helper()
	var output *OutputError
	if !errors.As(err, &output) || disk.Reason(output.Err) != why || output.Hint() != remedy {
		t.Errorf("%s: %v, want %s; %s", name, err, why, remedy)
	}
}

// manifest is the text of a manifest that lists files of the text "x".
func manifest(head string, names ...string) string {
	var outputs []string
	for _, name := range names {
		outputs = append(outputs, fmt.Sprintf(`{"name": %q, "bytes": 1, "sha256": "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881"}`, name)) // sha256sum of "x"
	}
	return fmt.Sprintf(`{"program": "driftreach"%s, "outputs": [%s]}`, head, strings.Join(outputs, ","))
}

// ofKind makes a finished folder of ours: a manifest with a head, and the files that show its kind.
func ofKind(t *testing.T, dir, head string, names ...string) {
	t.Helper()
	for _, name := range names {
		put(t, dir, name, "x")
	}
	put(t, dir, ManifestName, manifest(head, names...))
}

// Which folder of ours may be replaced by which: one of the same kind and quarter, any where the kind is
// not said or --replace-other is given; the message says what is there and what would come.
func TestKindsThatReplaceEachOther(t *testing.T) {
	const remedy = "choose another --out, or give --replace-other to let it go"
	for _, c := range []struct {
		name, head string
		files      []string
		out        Out
		why        string
	}{
		{"the same batch", `, "quarter": "2026Q3"`, []string{"a"}, Out{Kind: Batch, Quarter: "2026Q3"}, ""}, {"another quarter", `, "quarter": "2026Q3"`, []string{"a"}, Out{Kind: Batch, Quarter: "2026Q4"}, "the folder holds the finished batch of 2026Q3, and this is the batch of 2026Q4"},
		{"another quarter, let go", `, "quarter": "2026Q3"`, []string{"a"}, Out{Kind: Batch, Quarter: "2026Q4", Other: true}, ""}, {"any kind", `, "quarter": "2026Q3"`, []string{"a"}, Out{}, ""},
		{"a public edition", `, "quarter": "2026Q3", "edition": "public"`, []string{"a"}, Out{Kind: Batch, Quarter: "2026Q3"}, "the folder holds the public edition of 2026Q3, and this is the batch of 2026Q3"}, {"a batch", `, "quarter": "2026Q3"`, []string{"a"}, Out{Kind: PublicEdition, Quarter: "2026Q3"}, "the folder holds the finished batch of 2026Q3, and this is the public edition of 2026Q3"},
		{"the same edition", `, "quarter": "2026Q3", "edition": "public"`, []string{"a"}, Out{Kind: PublicEdition, Quarter: "2026Q3"}, ""},
		{"a demo", "", []string{"inputs/a"}, Out{Kind: Trend}, "the folder holds a demo, and this is a trend"}, {"a trend", "", []string{"trend.csv"}, Out{Kind: Demo}, "the folder holds a trend, and this is a demo"}, {"a trend, again", "", []string{"trend.csv"}, Out{Kind: Trend}, ""},
		{"answers", "", []string{"learned.html"}, Out{Kind: Parts}, "the folder holds answers of a chain, and this is the parts of a batch"}, {"parts", "", []string{"0001/part.bin"}, Out{Kind: Part}, "the folder holds the parts of a batch, and this is the result of a part"}, {"a part", "", []string{"result.bin"}, Out{Kind: Learned}, "the folder holds the result of a part, and this is answers of a chain"},
		{"no kind", "", []string{"a"}, Out{Kind: Batch, Quarter: "2026Q3"}, "the folder holds something else of ours, and this is the batch of 2026Q3"},
	} {
		c.out.Dir = filepath.Join(t.TempDir(), "out")
		ofKind(t, c.out.Dir, c.head, c.files...)
		err := Make(t.Context(), c.out, fillWith(nil))
		if c.why == "" {
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		refuses(t, c.name, err, c.why, remedy)
		if got := tree(t, filepath.Dir(c.out.Dir)); got["out/"+c.files[0]] != "x" || len(got) < 3 {
			t.Errorf("%s: the folder is now %v", c.name, got)
		}
	}
}

// What is not ours is named with the reason, and edited files one by one, up to three.
func TestWhatIsNotReplaced(t *testing.T) {
	const other = "choose another --out, or move that folder away"
	const edited = "save them elsewhere and give --replace-edited, or choose another --out"
	for _, c := range []struct {
		name, why, remedy string
		files             map[string]string
	}{
		{"no manifest", "the folder has files in it and is not one of ours: no manifest.json", other, map[string]string{"a": "x"}}, {"a folder for a manifest", "the folder has files in it and is not one of ours: manifest.json: it is a folder", other, map[string]string{"manifest.json/a": "x"}},
		{"no JSON", "the folder has files in it and is not one of ours: manifest.json cannot be read", other, map[string]string{"manifest.json": "x"}}, {"of another program", "the folder has files in it and is not one of ours: manifest.json is of another program", other, map[string]string{"manifest.json": `{"program": "x"}`}},
		{"a note", "the folder holds a file that is not ours: z", other, map[string]string{"manifest.json": manifest("", "a"), "a": "x", "z": "x"}},
		{"one edited", "the folder holds files that were edited since they were made: a", edited, map[string]string{"manifest.json": manifest("", "a", "b"), "a": "y", "b": "x"}}, {"one longer", "the folder holds files that were edited since they were made: a", edited, map[string]string{"manifest.json": manifest("", "a"), "a": "xx"}},
		{"three edited", "the folder holds files that were edited since they were made: a, b, c", edited, map[string]string{"manifest.json": manifest("", "a", "b", "c"), "a": "y", "b": "y", "c": "y"}}, {"five edited", "the folder holds files that were edited since they were made: a, b, c and 2 more", edited, map[string]string{"manifest.json": manifest("", "a", "b", "c", "d", "e"), "a": "y", "b": "y", "c": "y", "d": "y", "e": "y"}},
	} {
		dir := filepath.Join(t.TempDir(), "out")
		for name, text := range c.files {
			put(t, dir, name, text)
		}
		refuses(t, c.name, Make(t.Context(), Out{Dir: dir}, fillWith(nil)), c.why, c.remedy)
		if c.remedy == edited {
			if err := Make(t.Context(), Out{Dir: dir, Edited: true}, fillWith(nil)); err != nil {
				t.Errorf("%s, allowed: %v", c.name, err)
			}
		}
	}
	file := filepath.Join(t.TempDir(), "out")
	put(t, filepath.Dir(file), "out", "x")
	refuses(t, "a file", Make(t.Context(), Out{Dir: file}, fillWith(nil)), "there is something there that is not a folder", other)
	refuses(t, "a file above", Make(t.Context(), Out{Dir: filepath.Join(file, "out")}, fillWith(nil)), file+" is not a folder", "see that the folder above it can be written to and that there is room on the disk")
	refuses(t, "the top", Make(t.Context(), Out{Dir: string(filepath.Separator)}, fillWith(nil)), "it is the top of the file system", "see that the folder above it can be written to and that there is room on the disk")
}

// A file that the run reads is not replaced: not as the folder itself, nor inside it, nor by a link.
func TestGuardedFiles(t *testing.T) {
	const choose = "choose another --out"
	top := t.TempDir()
	dir := filepath.Join(top, "out")
	ofKind(t, dir, "", "a", "sub/b")
	put(t, top, "points.csv", "x")
	put(t, top, "maps/m.csv", "x")
	for _, c := range []struct{ name, path, why string }{
		{"inside", "out/a", "the input lies in it"}, {"the folder", "out", "it is the input"}, {"a folder above", ".", ""}, {"where it is built", ".out.driftreach-part/x", "the input lies in it"}, {"where the old one waits", ".out.driftreach-old", "it is the input"}, {"the lock", ".out.driftreach-lock", "it is the input"}, {"elsewhere", "points.csv", ""}, {"missing", "none.csv", ""},
	} {
		out := Out{Dir: dir, Guarded: []Guarded{{"the input", filepath.Join(top, filepath.FromSlash(c.path))}}}
		s, err := siblingsOf(dir)
		if err != nil {
			t.Fatal(err)
		}
		got := out.keepApart(s)
		if (got == nil) != (c.why == "") || got != nil && got.Error() != c.why {
			t.Errorf("%s: %v, want %s", c.name, got, c.why)
		}
	}
	refuses(t, "inside", Make(t.Context(), Out{Dir: dir, Guarded: []Guarded{{"the input", filepath.Join(dir, "a")}}}, fillWith(nil)), "the input lies in it", choose)
	for _, c := range []struct{ guarded, why string }{{"points.csv", "a in it is, by another name, the input"}, {"maps", "a in it is, by another name, m.csv of the input"}} {
		from := filepath.Join(top, c.guarded)
		if c.guarded == "maps" {
			from = filepath.Join(from, "m.csv")
		}
		removeFile(t, dir, "a")
		if err := os.Link(from, filepath.Join(dir, "a")); err != nil {
			t.Skip("no links here: ", err)
		}
		refuses(t, c.guarded, Make(t.Context(), Out{Dir: dir, Guarded: []Guarded{{"the input", filepath.Join(top, c.guarded)}}}, fillWith(nil)), c.why, choose)
	}
}

// A file that somebody changes in the old folder while the run works is not lost.
func TestChangedWhileTheRunWorks(t *testing.T) {
	for name, change := range map[string]func(dir string) error{
		"a": func(dir string) error { return os.WriteFile(filepath.Join(dir, "a"), []byte("longer"), 0o600) },
		"b": func(dir string) error { return os.Chtimes(filepath.Join(dir, "b"), time.Time{}, time.Unix(1, 0)) },
		"z": func(dir string) error { return os.WriteFile(filepath.Join(dir, "z"), nil, 0o600) },
	} {
		dir := filepath.Join(t.TempDir(), "out")
		ofKind(t, dir, "", "a", "b")
		err := Make(t.Context(), Out{Dir: dir}, func(f *Folder) error { return errors.Join(change(dir), fillWith(nil)(f)) })
		refuses(t, name, err, "a file in the folder was changed while this run worked: "+name, "save it elsewhere, and run again")
	}
}

// Names that lead out of the folder, or that another system reads as a path, are refused, as is a file
// written twice.
func TestNamesInAFolder(t *testing.T) {
	for name, sound := range map[string]bool{"a": true, "a/b/c.csv": true, "..a": true, "": false, "../a": false, "a/../b": false, "/a": false, "a/": false, `a\b`: false, "a:b": false, "a//b": false} {
		err := Make(t.Context(), Out{Dir: filepath.Join(t.TempDir(), "out")}, func(f *Folder) error {
			return f.Sub("s").Write(name, func(w io.Writer) error { _, err := io.WriteString(w, "x"); return err })
		})
		if (err == nil) != sound || !sound && err.Error() != fmt.Sprintf("%q is no name of a file inside the folder", "s/"+name) {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// The batch that a folder replaces, with its files as listed, except those that were edited; none for a
// folder inside, nor where any may be replaced, nor where there was none.
func TestReplaced(t *testing.T) {
	for _, c := range []struct {
		name, head string
		out        Out
		sub        bool
		is         bool
	}{{"a batch", `, "quarter": "2026Q3"`, Out{Edited: true}, false, true}, {"any", `, "quarter": "2026Q3"`, Out{Edited: true, Other: true}, false, false}, {"a trend", "", Out{Edited: true}, false, false}, {"inside", `, "quarter": "2026Q3"`, Out{Edited: true}, true, false}} {
		c.out.Dir = filepath.Join(t.TempDir(), "out")
		ofKind(t, c.out.Dir, c.head, "a", "b")
		put(t, c.out.Dir, "b", "edited")
		err := Make(t.Context(), c.out, func(f *Folder) error {
			if c.sub {
				f = f.Sub("s")
			}
			r := f.Replaces()
			if (r != nil) != c.is {
				t.Errorf("%s: %+v", c.name, r)
			}
			if r == nil {
				return fillWith(nil)(f)
			}
			sum, listed := r.Listed("a")
			_, edited := r.Listed("b")
			_, none := r.Listed("c")
			if r.Name != c.out.Dir || r.Path != c.out.Dir || !listed || sum.Bytes != 1 || edited || none {
				t.Errorf("%s: %+v, %+v", c.name, r, sum)
			}
			return f.Refuse("it is wrong", "mend it")
		})
		if c.is {
			refuses(t, c.name, err, "it is wrong", "mend it")
		}
	}
	if (&Folder{}).Replaces() != nil {
		t.Error("a folder without a place replaces something")
	}
}

// Where a finished folder stands: at its name, or aside, where a run was killed; and what a run leaves
// beside it.
func TestStandingAndLeft(t *testing.T) {
	for _, c := range []struct {
		files       []string
		at          string
		aside, left bool
	}{
		{nil, "out", false, false}, {[]string{"out/manifest.json"}, "out", false, false}, {[]string{".out.driftreach-old/manifest.json"}, ".out.driftreach-old", true, true}, {[]string{".out.driftreach-old/a"}, "out", false, true},
		{[]string{"out/a", ".out.driftreach-old/manifest.json"}, "out", false, true}, {[]string{".out.driftreach-part/a"}, "out", false, true}, {[]string{".out.driftreach-lock"}, "out", false, true}, {[]string{".out.driftreach-new"}, "out", false, false},
	} {
		top := t.TempDir()
		for _, name := range c.files {
			put(t, top, name, "")
		}
		path, aside := Standing(disk.System(), filepath.Join(top, "out"))
		if filepath.Base(path) != c.at || aside != c.aside || Left(disk.System(), filepath.Join(top, "out")) != c.left {
			t.Errorf("%q: at %s, aside %v, left %v", c.files, path, aside, !c.left)
		}
	}
	if path, aside := Standing(disk.System(), "/"); path != "/" || aside || Left(disk.System(), "/") {
		t.Error("the top of the file system")
	}
}

// A single file is written whole or not at all, beside one that another run writes or not.
func TestWriteFile(t *testing.T) {
	text := func(s string) func(io.Writer) error {
		return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
	}
	top := t.TempDir()
	path := filepath.Join(top, "a.csv")
	for _, s := range []string{"first", "second"} {
		if err := WriteFile(t.Context(), Out{Dir: path}, text(s)); err != nil || tree(t, top)["a.csv"] != s || len(tree(t, top)) != 1 {
			t.Errorf("%v, %v", err, tree(t, top))
		}
	}
	broken := errors.New("broken")
	half := func(w io.Writer) error { return errors.Join(text("half")(w), broken) }
	refuses(t, "a writer that fails", WriteFile(t.Context(), Out{Dir: path}, half), "broken", "see that the folder above it can be written to and that there is room on the disk")
	ctx, stop := context.WithCancel(t.Context())
	if err := WriteFile(ctx, Out{Dir: path}, func(w io.Writer) error { stop(); return text("x")(w) }); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	err := WriteFile(t.Context(), Out{Dir: path}, func(io.Writer) error {
		refuses(t, "two at once", WriteFile(t.Context(), Out{Dir: path}, text("x")), "another run is writing it now", "wait for it to end, or name another file")
		return broken
	})
	if !errors.Is(err, broken) || tree(t, top)["a.csv"] != "second" || len(tree(t, top)) != 1 {
		t.Errorf("%v, %v", err, tree(t, top))
	}
	// each operation of the disk fails once
	for n := 0; ; n++ {
		d := faulty.New(disk.System(), faulty.Plan{At: n})
		var warned []string
		err := WriteFile(t.Context(), Out{Dir: path, Disk: d, Warn: func(s string) { warned = append(warned, s) }}, text(fmt.Sprint(n)))
		if d.Failed() == "" {
			if n < 9 {
				t.Errorf("only %d operations", n)
			}
			break
		}
		got := tree(t, top)["a.csv"]
		delete := func(name string) { os.RemoveAll(filepath.Join(top, name)) }
		switch said := fmt.Sprint(err, warned); {
		case err == nil && (len(warned) != 1 || !strings.HasSuffix(warned[0], "could not be removed (no space left on device), and does no harm")):
			t.Errorf("%s: no error, and %q", d.Failed(), warned)
		case err != nil && got == fmt.Sprint(n) && !strings.Contains(said, "the new one is in place, but the disk has not confirmed it (no space left on device)"):
			t.Errorf("%s: in place, and %s", d.Failed(), said)
		case err != nil && got != fmt.Sprint(n) && !strings.Contains(said, "no space left on device"):
			t.Errorf("%s: %s", d.Failed(), said)
		}
		delete(".a.csv.driftreach-lock")
		delete(".a.csv.driftreach-part")
	}
}

// Temporary files beside the outputs, with their own names, and errors that are about the output.
func TestScratchFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	err := Make(t.Context(), Out{Dir: dir}, func(f *Folder) error {
		s, err := f.Scratch()
		if err != nil {
			return err
		}
		_, again := f.Scratch()
		refuses(t, "twice", again, "file exists", "see that the folder above it can be written to and that there is room on the disk")
		for prefix, place := range map[string]*Scratch{"x": s, "p-x": s.Sub("p")} {
			file, err := place.Create("x")
			if err != nil {
				return err
			}
			if _, err := io.WriteString(file, prefix); err != nil {
				return err
			}
			if err := file.Close(); err != nil {
				return err
			}
		}
		for prefix, place := range map[string]*Scratch{"x": s, "p-x": s.Sub("p")} {
			file, err := place.Open("x")
			if err != nil {
				return err
			}
			b := make([]byte, 4)
			n, err := file.ReadAt(b, 0)
			if string(b[:n]) != prefix || err != io.EOF {
				t.Errorf("%q, %v", b[:n], err)
			}
			file.Close()
			if _, err := file.ReadAt(b, 0); err == nil || !strings.HasPrefix(err.Error(), "write .scratch/x: ") {
				t.Errorf("a closed file: %v", err)
			}
		}
		if _, err := s.Open("none"); !errors.Is(err, fs.ErrNotExist) || !strings.HasPrefix(err.Error(), "write .scratch/none: ") {
			t.Error(err)
		}
		if _, err := s.Create("x"); !errors.Is(err, fs.ErrExist) || !strings.HasPrefix(err.Error(), "write .scratch/x: ") {
			t.Error(err)
		}
		if err := s.Remove(); err != nil {
			return err
		}
		return fillWith(nil)(f)
	})
	if err != nil || !slices.Equal(slices.Collect(maps.Keys(tree(t, dir))), []string{ManifestName}) {
		t.Errorf("%v, %v", err, tree(t, dir))
	}
}
