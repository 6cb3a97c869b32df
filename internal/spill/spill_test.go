package spill_test

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"driftreach/internal/disk"
	"driftreach/internal/spill"
)

// dir is a folder as a place.
type dir string

func (d dir) Create(name string) (disk.File, error) {
	return disk.System().Create(filepath.Join(string(d), name))
}

func (d dir) Open(name string) (disk.File, error) {
	return disk.System().Open(filepath.Join(string(d), name))
}

type entry struct{ key, value []byte }

// TestSorted: entries come as slices.SortStableFunc sorts them, twice, whatever fits into memory.
func TestSorted(t *testing.T) {
	texts := rapid.SliceOfN(rapid.ByteRange('a', 'c'), 0, 4)
	at, draws := dir(t.TempDir()), 0
	rapid.Check(t, func(t *rapid.T) {
		draws++
		s := spill.NewSorter(at, fmt.Sprint(draws), rapid.IntRange(1, 60).Draw(t, "room"))
		var want []entry
		for range rapid.IntRange(0, 60).Draw(t, "entries") {
			e := entry{texts.Draw(t, "key"), texts.Draw(t, "value")}
			want = append(want, e)
			if err := s.Add(e.key, e.value); err != nil {
				t.Fatal(err)
			}
		}
		slices.SortStableFunc(want, func(a, b entry) int { return bytes.Compare(a.key, b.key) })
		for range 2 {
			var got []entry
			err := s.Each(func(key, value []byte) error {
				got = append(got, entry{bytes.Clone(key), bytes.Clone(value)})
				return nil
			})
			if err != nil || slices.CompareFunc(want, got, func(a, b entry) int {
				return cmp.Or(bytes.Compare(a.key, b.key), bytes.Compare(a.value, b.value))
			}) != 0 {
				t.Fatalf("%q, want %q, %v", got, want, err)
			}
		}
	})
}

// TestSpooled: entries come in the order in which they were added, twice, and an error of the caller
// ends it.
func TestSpooled(t *testing.T) {
	s := spill.NewSpool(dir(t.TempDir()), "f")
	if err := s.Each(func([]byte) error { return errors.New("nothing was added") }); err != nil {
		t.Error(err)
	}
	for _, text := range []string{"b", "", "a"} {
		if err := s.Add([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	for range 2 {
		got := ""
		if err := s.Each(func(e []byte) error { got += "(" + string(e) + ")"; return nil }); err != nil || got != "(b)()(a)" {
			t.Error(got, err)
		}
	}
	enough := errors.New("enough")
	if err := s.Each(func([]byte) error { return enough }); !errors.Is(err, enough) {
		t.Error(err)
	}
}

// TestCutOff: a file that is shorter than it was written is an error, not fewer entries.
func TestCutOff(t *testing.T) {
	at := dir(t.TempDir())
	s := spill.NewSorter(at, "f", 1)
	for _, key := range []string{"one", "two"} {
		if err := s.Add([]byte(key), []byte("value")); err != nil {
			t.Fatal(err)
		}
	}
	nothing := func(_, _ []byte) error { return nil }
	if err := s.Each(nothing); err != nil {
		t.Fatal(err)
	}
	whole, err := disk.ReadFile(disk.System(), filepath.Join(string(at), "f"), 100)
	if err != nil {
		t.Fatal(err)
	}
	for n := range whole {
		if err := disk.System().Remove(filepath.Join(string(at), "f")); err != nil {
			t.Fatal(err)
		}
		file, err := at.Create("f")
		if err == nil {
			_, err = file.Write(whole[:n])
		}
		if err := errors.Join(err, file.Close()); err != nil {
			t.Fatal(err)
		}
		if err := s.Each(nothing); err == nil {
			t.Errorf("%d of %d bytes are enough", n, len(whole))
		}
	}
}
