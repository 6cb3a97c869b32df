package spill_test

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"driftreach/geo/parallel"
	"driftreach/internal/disk"
	"driftreach/internal/disk/faulty"
	"driftreach/internal/spill"
)

// faultyDir is a folder on a disk that fails as planned.
type faultyDir struct {
	dir
	d *faulty.Disk
}

func (f faultyDir) Create(name string) (disk.File, error) {
	return f.d.Create(string(f.dir) + "/" + name)
}
func (f faultyDir) Open(name string) (disk.File, error) { return f.d.Open(string(f.dir) + "/" + name) }

// TestEveryFault: whichever operation of the disk fails, what is sorted, spooled or put on a shelf comes
// back whole or with the disk's error, and never less of it without one.
func TestEveryFault(t *testing.T) {
	long := strings.Repeat("v", 20_000) // so that buffers are written before they are flushed
	for name, use := range map[string]func(at spill.Place) (string, error){
		"sorted": func(at spill.Place) (got string, err error) {
			s := spill.NewSorter(at, "f", 30_000)
			for _, key := range []string{"c", "a", "b", "a"} {
				if err := s.Add([]byte(key), []byte(long)); err != nil {
					return "", errors.Join(err, s.Close())
				}
			}
			err = s.Each(func(key, value []byte) error { got += fmt.Sprint(string(key), len(value), " "); return nil })
			return got, errors.Join(err, s.Close())
		},
		"spooled": func(at spill.Place) (got string, err error) {
			s := spill.NewSpool(at, "f")
			for _, n := range []int{20_000, 5, 20_000} {
				if err := s.Add([]byte(long[:n])); err != nil {
					return "", errors.Join(err, s.Close())
				}
			}
			err = s.Each(func(entry []byte) error { got += fmt.Sprint(len(entry), " "); return nil })
			return got, errors.Join(err, s.Close())
		},
		"shelved": func(at spill.Place) (got string, err error) {
			s := spill.NewShelf(at, "f")
			var texts []spill.Text
			for _, n := range []int{20_000, 5, 20_000} {
				text, err := s.Put([]byte(long[:n]))
				if err != nil {
					return "", errors.Join(err, s.Close())
				}
				texts = append(texts, text)
			}
			err = parallel.Guard(func() error {
				for _, text := range texts {
					got += fmt.Sprint(len(text.Bytes()), " ")
				}
				return nil
			})
			return got, errors.Join(err, s.Close())
		},
	} {
		want, err := use(dir(t.TempDir()))
		if err != nil || want == "" {
			t.Fatalf("%s: %q, %v", name, want, err)
		}
		n := 0
		for ; ; n++ {
			d := faulty.New(disk.System(), faulty.Plan{At: n})
			got, err := use(faultyDir{dir(t.TempDir()), d})
			if d.Failed() == "" {
				break
			}
			if err == nil {
				t.Errorf("%s: %s fails, and no error comes of it; got %q", name, d.Failed(), got)
			}
		}
		if n < 6 {
			t.Errorf("%s: only %d operations", name, n)
		}
	}
}

// TestShelfInMemory: texts of every size come back as they were put, in any order, as one block after
// another fills; a part of one, and nothing of one, too.
func TestShelfInMemory(t *testing.T) {
	for name, at := range map[string]spill.Place{"in memory": nil, "on disk": dir(t.TempDir())} {
		s := spill.NewShelf(at, "f")
		var texts []spill.Text
		sizes := []int{0, 1, 65_535, 1, 65_536, 65_537, 3, 0, 200_000, 32_768, 32_768, 1}
		for i, n := range sizes {
			texts = append(texts, s.Take(bytes.Repeat([]byte{byte('a' + i)}, n)))
		}
		if kept, err := s.Keep([]byte("kept")); err != nil || string(kept.Bytes()) != "kept" {
			t.Errorf("%s: %v", name, err)
		}
		for i := len(sizes) - 1; i >= 0; i-- {
			want := bytes.Repeat([]byte{byte('a' + i)}, sizes[i])
			if got := texts[i].Bytes(); !bytes.Equal(got, want) || texts[i].Len() != sizes[i] {
				t.Errorf("%s: text %d has %d bytes, want %d", name, i, len(got), sizes[i])
			}
			room := make([]byte, 0, 4)
			if n := min(sizes[i], 3); !bytes.Equal(texts[i].Read(room, n), want[:n]) {
				t.Errorf("%s: the first %d bytes of text %d", name, n, i)
			}
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
	if (spill.Text{}).Len() != 0 || len((spill.Text{}).Bytes()) != 0 {
		t.Error("a text of nothing has something")
	}
	missing := spill.NewShelf(dir("/none/of/this"), "f")
	err := parallel.Guard(func() error { missing.Take([]byte("x")); return nil })
	var fault *parallel.Fault
	if !errors.As(err, &fault) {
		t.Errorf("nowhere to put it: %v", err)
	}
}
