package folder

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"driftreach/internal/disk"
	"driftreach/internal/disk/faulty"
)

// as fills a folder with one file, and a manifest that makes it a folder of a kind.
func as(kind Kind, quarter string) func(*Folder) error {
	names := map[Kind]string{Trend: TrendFile, Learned: LearnedFile, Parts: partsFile, Part: ResultFile, Demo: "inputs/points.csv"}
	return func(f *Folder) error {
		name := names[kind]
		if name == "" {
			name = "a.csv"
		}
		if err := f.Write(name, func(w io.Writer) error { _, err := io.WriteString(w, "x"); return err }); err != nil {
			return err
		}
		m := map[string]any{"program": Program, "outputs": f.Files()}
		if kind == Batch || kind == PublicEdition {
			m["quarter"] = quarter
		}
		if kind == PublicEdition {
			m["edition"] = Public
		}
		return f.Write(ManifestName, func(w io.Writer) error { return json.NewEncoder(w).Encode(m) })
	}
}

// TestOnlyTheSameKindIsReplaced: a folder is replaced by one of its kind, a batch by one of its quarter,
// any by one that may be anything or is told to let it go; otherwise the message names both.
func TestOnlyTheSameKindIsReplaced(t *testing.T) {
	words := map[Kind]string{
		Batch: "the finished batch of 2026Q1", PublicEdition: "the public edition of 2026Q1", Trend: "a trend", Learned: "answers of a chain", Parts: "the parts of a batch", Part: "the result of a part", Demo: "a demo", "": "something else of ours",
	}
	for there, named := range words {
		dir := filepath.Join(t.TempDir(), "out")
		make := func(out Out, fill func(*Folder) error) error { out.Dir = dir; return Make(t.Context(), out, fill) }
		if err := make(Out{}, as(there, "2026Q1")); err != nil {
			t.Fatal(err)
		}
		for here := range words {
			if here == "" {
				continue
			}
			quarter := map[bool]string{true: "2026Q1"}[here == Batch || here == PublicEdition]
			err := make(Out{Kind: here, Quarter: quarter}, as(there, "2026Q1")) // it stays what it was
			if (err == nil) != (here == there) || err != nil && (!strings.Contains(err.Error(), "the folder holds "+named+", and this is ") || !strings.Contains(hint(err), "--replace-other")) {
				t.Errorf("%q by %q: %v", there, here, err)
			}
			if err := make(Out{Kind: here, Quarter: quarter, Other: true}, as(there, "2026Q1")); err != nil {
				t.Errorf("%q by %q, told to: %v", there, here, err)
			}
		}
	}
	dir := filepath.Join(t.TempDir(), "out")
	for _, c := range []struct {
		kind    Kind
		quarter string
		want    string
	}{
		{Batch, "2026Q1", ""}, {Batch, "2026Q1", ""}, {Batch, "2026Q2", "the folder holds the finished batch of 2026Q1, and this is the batch of 2026Q2"},
		{PublicEdition, "2026Q1", "the folder holds the finished batch of 2026Q1, and this is the public edition of 2026Q1"}, {Trend, "", "the folder holds the finished batch of 2026Q1, and this is a trend"},
	} {
		err := Make(t.Context(), Out{Dir: dir, Kind: c.kind, Quarter: c.quarter}, as(c.kind, c.quarter))
		if (err == nil) != (c.want == "") || err != nil && !strings.HasSuffix(err.Error(), c.want) {
			t.Errorf("%s of %s: %v, want %q", c.kind, c.quarter, err, c.want)
		}
	}
}

// hint is what an error tells to do.
func hint(err error) string {
	var told interface{ Hint() string }
	if errors.As(err, &told) {
		return told.Hint()
	}
	return ""
}

// TestWhatIsReadIsNotOverwritten: an input may not lie in the folder or beside it where the run works,
// be the folder, or have another name in it.
func TestWhatIsReadIsNotOverwritten(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "out")
	put(t, top, "points.csv", "p")
	put(t, top, "more/late.csv", "l")
	if err := Make(t.Context(), Out{Dir: dir}, fillWith(map[string]string{"a.csv": "1"})); err != nil {
		t.Fatal(err)
	}
	link := func(from string) func() {
		return func() {
			if err := errors.Join(os.Remove(filepath.Join(dir, "a.csv")), os.Link(filepath.Join(top, from), filepath.Join(dir, "a.csv"))); err != nil {
				t.Fatal(err)
			}
		}
	}
	for name, c := range map[string]struct {
		path   string
		before func()
		want   string
	}{
		"beside it": {"points.csv", nil, ""}, "a folder beside it": {"more", nil, ""}, "a file that is not there": {"none.csv", nil, ""},
		"the folder": {"out", nil, "it is the input"}, "in it": {"out/b.csv", nil, "the input lies in it"}, "where it works": {".out.driftreach-part/x", nil, "the input lies in it"},
		"where the old one waits": {".out.driftreach-old", nil, "it is the input"}, "its lock": {".out.driftreach-lock", nil, "it is the input"},
		"by another name": {"points.csv", link("points.csv"), "a.csv in it is, by another name, the input"}, "by another name of a folder": {"more", link("more/late.csv"), "a.csv in it is, by another name, late.csv of the input"},
	} {
		if c.before != nil {
			c.before()
		}
		err := Make(t.Context(), Out{Dir: dir, Edited: true, Guarded: []Guarded{{"the input", filepath.Join(top, filepath.FromSlash(c.path))}}}, fillWith(map[string]string{"a.csv": "1"}))
		if (err == nil) != (c.want == "") || err != nil && (!strings.HasSuffix(err.Error(), c.want) || hint(err) != "choose another --out") {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
		if c.before != nil { // away with the link
			if err := errors.Join(os.RemoveAll(dir), Make(t.Context(), Out{Dir: dir}, fillWith(map[string]string{"a.csv": "1"}))); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := os.Symlink(filepath.Join(top, "nowhere"), filepath.Join(dir, "b.csv")); err == nil {
		err := Make(t.Context(), Out{Dir: dir, Guarded: []Guarded{{"the input", filepath.Join(top, "points.csv")}}}, fillWith(nil))
		if err == nil || !strings.HasSuffix(err.Error(), "the folder holds a file that is not ours: b.csv") {
			t.Errorf("a broken link: %v", err)
		}
	}
}

// TestEditedFilesAreNamed: three files that were edited are named, and how many there are more; by hand.
func TestEditedFilesAreNamed(t *testing.T) {
	for n, want := range map[int]string{0: "", 1: ": 0.csv", 3: ": 0.csv, 1.csv, 2.csv", 4: ": 0.csv, 1.csv, 2.csv and 1 more", 5: ": 0.csv, 1.csv, 2.csv and 2 more"} {
		dir, texts := filepath.Join(t.TempDir(), "out"), map[string]string{}
		for i := range 6 {
			texts[fmt.Sprint(i, ".csv")] = "1"
		}
		if err := Make(t.Context(), Out{Dir: dir}, fillWith(texts)); err != nil {
			t.Fatal(err)
		}
		for i := range n {
			put(t, dir, fmt.Sprint(i, ".csv"), "2")
		}
		err := Make(t.Context(), Out{Dir: dir}, fillWith(texts))
		if (err == nil) != (n == 0) || err != nil && (!strings.HasSuffix(err.Error(), "edited since they were made"+want) || !strings.Contains(hint(err), "--replace-edited")) {
			t.Errorf("%d edited: %v", n, err)
		}
		if err := Make(t.Context(), Out{Dir: dir, Edited: true}, fillWith(texts)); err != nil {
			t.Errorf("%d edited, told to: %v", n, err)
		}
	}
}

// TestTheBatchThatIsReplaced: a new batch learns which files of the old one are as listed; one that may
// replace anything, or a part of a batch, learns of none.
func TestTheBatchThatIsReplaced(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	if err := Make(t.Context(), Out{Dir: dir}, as(Batch, "2026Q1")); err != nil {
		t.Fatal(err)
	}
	try := func(out Out, do func(f *Folder) error) error {
		out.Dir, out.Edited = dir, true
		return Make(t.Context(), out, do)
	}
	errDone := errors.New("done")
	for edited := range 2 {
		if edited == 1 {
			put(t, dir, "a.csv", "y")
		}
		err := try(Out{Kind: Batch, Quarter: "2026Q1"}, func(f *Folder) error {
			r := f.Replaces()
			if r == nil || r.Name != dir || f.Sub("x").Replaces() != nil {
				t.Fatalf("%+v", r)
			}
			if _, ok := r.Listed("none.csv"); ok {
				t.Error("a file that is not there is listed")
			}
			sum, ok := r.Listed("a.csv")
			if text, err := os.ReadFile(filepath.Join(r.Path, "a.csv")); err != nil || ok != (edited == 0) || sum.Bytes != 1 || len(text) != 1 {
				t.Errorf("edited %d: %v, %+v, %v", edited, ok, sum, err)
			}
			return errDone
		})
		if !errors.Is(err, errDone) {
			t.Error(err)
		}
	}
	if err := try(Out{Other: true}, func(f *Folder) error {
		if f.Replaces() != nil {
			t.Error("where any may go none is named")
		}
		return f.Refuse("it is too far", "go there")
	}); err == nil || !strings.HasSuffix(err.Error(), "it is too far") || hint(err) != "go there" || !isOutputError(err) {
		t.Error(err)
	}
	empty := filepath.Join(t.TempDir(), "new")
	if err := Make(t.Context(), Out{Dir: empty}, func(f *Folder) error {
		if f.Replaces() != nil {
			t.Error("nothing is replaced")
		}
		return fillWith(nil)(f)
	}); err != nil {
		t.Error(err)
	}
}

// TestWriteFileIsWholeOrNotThere: whichever operation of the disk fails, the file has its old text or
// the new one whole, and nothing is left beside it that the message does not name; without a failure
// the new text is there and nothing else.
func TestWriteFileIsWholeOrNotThere(t *testing.T) {
	for n := 0; ; n++ {
		top := t.TempDir()
		path := filepath.Join(top, "out.geojson")
		put(t, top, "out.geojson", "old")
		d := faulty.New(disk.System(), faulty.Plan{At: n})
		err := WriteFile(t.Context(), Out{Dir: path, Disk: d, Warn: func(string) {}}, func(w io.Writer) error { _, err := io.WriteString(w, "new"); return err })
		is := tree(t, top)
		text := is["out.geojson"]
		delete(is, "out.geojson")
		if d.Failed() == "" {
			if err != nil || text != "new" || len(is) != 0 || n < 5 {
				t.Errorf("after %d operations: %v, %q, %v", n, err, text, is)
			}
			return
		}
		if text != "new" && (err == nil || text != "old") || err != nil && !isOutputError(err) {
			t.Errorf("%s: %v, the text is %q", d.Failed(), err, text)
		}
		for name := range is {
			if err == nil && !strings.HasSuffix(name, "lock") || err != nil && !strings.Contains(err.Error(), name) {
				t.Errorf("%s: %s is left: %v", d.Failed(), name, err)
			}
		}
	}
}

// TestWriteFileStops: a writer's error comes back and leaves the old text; a run that was to stop returns
// that; and two runs at one file exclude each other.
func TestWriteFileStops(t *testing.T) {
	top := t.TempDir()
	path := filepath.Join(top, "out.csv")
	put(t, top, "out.csv", "old")
	broken := errors.New("broken")
	half := func(w io.Writer) error { io.WriteString(w, "half"); return broken }
	if err := WriteFile(t.Context(), Out{Dir: path}, half); !errors.Is(err, broken) || !isOutputError(err) || hint(err) == "" {
		t.Error(err)
	}
	ended, end := context.WithCancel(t.Context())
	if err := WriteFile(ended, Out{Dir: path}, func(w io.Writer) error { end(); return half(w) }); !errors.Is(err, context.Canceled) || isOutputError(err) {
		t.Error(err)
	}
	err := WriteFile(t.Context(), Out{Dir: path}, func(io.Writer) error {
		err := WriteFile(t.Context(), Out{Dir: path}, half)
		if !errors.Is(err, disk.ErrLocked) || hint(err) != "wait for it to end, or name another file" {
			t.Errorf("the second run: %v", err)
		}
		return broken
	})
	if is := tree(t, top); !errors.Is(err, broken) || len(is) != 1 || is["out.csv"] != "old" {
		t.Errorf("%v: %v", err, is)
	}
	if err := WriteFile(t.Context(), Out{Dir: string(filepath.Separator)}, half); !isOutputError(err) {
		t.Errorf("the top of the file system: %v", err)
	}
}

// TestWhatARunLeavesBeside: a run at work is seen beside its folder, and a finished folder whose killed
// run had moved it aside is found there.
func TestWhatARunLeavesBeside(t *testing.T) {
	d, top := disk.System(), t.TempDir()
	dir := filepath.Join(top, "out")
	if Left(d, dir) || Left(d, string(filepath.Separator)) {
		t.Error("nothing is left beside a folder that was never written")
	}
	for _, name := range []string{"part", "old", "lock"} {
		put(t, top, ".out.driftreach-"+name, "x")
		if !Left(d, dir) {
			t.Errorf("%s is not seen", name)
		}
		os.Remove(filepath.Join(top, ".out.driftreach-"+name))
	}
	if at, aside := Standing(d, dir); at != dir || aside {
		t.Errorf("no folder stands at %s, %v", at, aside)
	}
	put(t, top, ".out.driftreach-old/a.csv", "x") // without a manifest it is no folder of ours
	if at, aside := Standing(d, dir); at != dir || aside {
		t.Errorf("a rest stands at %s, %v", at, aside)
	}
	put(t, top, ".out.driftreach-old/"+ManifestName, "{}")
	if at, aside := Standing(d, dir); at != filepath.Join(top, ".out.driftreach-old") || !aside {
		t.Errorf("the old folder stands at %s, %v", at, aside)
	}
	if at, aside := Standing(d, dir+string(filepath.Separator)); at == dir || !aside && !strings.HasPrefix(at, dir) {
		t.Errorf("with a slash it stands at %s, %v", at, aside)
	}
	put(t, top, "out/a.csv", "x")
	if at, aside := Standing(d, dir); at != dir || aside {
		t.Errorf("the folder stands at %s, %v", at, aside)
	}
}

// TestScratchPlacesApart: files of the scratch place are written, read back and gone before the folder takes
// its place; places within it do not share names, and every error is about the output.
func TestScratchPlacesApart(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	err := Make(t.Context(), Out{Dir: dir}, func(f *Folder) error {
		s, err := f.Scratch()
		if err != nil {
			return err
		}
		for k, place := range []*Scratch{s, s.Sub("a"), s.Sub("b"), s.Sub("a").Sub("c")} {
			text := fmt.Sprint("text ", k)
			file, err := place.Create("x")
			if err == nil {
				_, err = io.WriteString(file, text)
			}
			if err := errors.Join(err, file.Close()); err != nil {
				return err
			}
			if err := file.Close(); !isOutputError(err) {
				t.Errorf("closed twice: %v", err)
			}
			if _, err := file.Write([]byte("x")); !isOutputError(err) || !strings.Contains(err.Error(), ".scratch/x") {
				t.Errorf("written when closed: %v", err)
			}
			if _, err := place.Create("x"); !isOutputError(err) {
				t.Errorf("made twice: %v", err)
			}
			back, err := place.Open("x")
			if err != nil {
				return err
			}
			got := make([]byte, 20)
			if n, err := back.ReadAt(got, 0); string(got[:n]) != text || !errors.Is(err, io.EOF) {
				t.Errorf("%q, %v", got[:n], err)
			}
			back.Close()
			if _, err := back.ReadAt(got, 0); !isOutputError(err) {
				t.Errorf("read when closed: %v", err)
			}
		}
		if _, err := s.Open("none"); !isOutputError(err) || !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("no such file: %v", err)
		}
		if _, err := f.Scratch(); !isOutputError(err) {
			t.Errorf("a second place: %v", err)
		}
		if err := s.Remove(); err != nil {
			return err
		}
		if _, err := os.Stat(filepath.Join(f.Dir(), scratchName)); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("the place is there: %v", err)
		}
		return fillWith(map[string]string{"a.csv": "1"})(f)
	})
	if is := tree(t, dir); err != nil || len(is) != 2 {
		t.Errorf("%v: %v", err, is)
	}
}
