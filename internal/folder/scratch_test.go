package folder

import (
	"errors"
	"io"
	"path/filepath"
	"testing"
)

// TestScratchWholeFiles: what is written as a whole is read as a whole; an error of who writes or reads is
// returned, and a file is not made twice.
func TestScratchWholeFiles(t *testing.T) {
	bad := errors.New("bad")
	err := Make(t.Context(), Out{Dir: filepath.Join(t.TempDir(), "out")}, func(f *Folder) error {
		s, err := f.Scratch()
		if err != nil {
			return err
		}
		text := func(w io.Writer) error { _, err := io.WriteString(w, "a text"); return err }
		if err := s.Write("x", text); err != nil {
			return err
		}
		if err := s.Write("x", text); !isOutputError(err) {
			t.Errorf("made twice: %v", err)
		}
		if err := s.Write("y", func(io.Writer) error { return bad }); !errors.Is(err, bad) {
			t.Errorf("a writer's error: %v", err)
		}
		var got []byte
		err = s.Read("x", func(r io.ReadSeeker) (err error) {
			if _, err := r.Seek(2, io.SeekStart); err != nil {
				return err
			}
			got, err = io.ReadAll(r)
			return err
		})
		if err != nil || string(got) != "text" {
			t.Errorf("%q, %v", got, err)
		}
		if err := s.Read("x", func(io.ReadSeeker) error { return bad }); !errors.Is(err, bad) {
			t.Errorf("a reader's error: %v", err)
		}
		if err := s.Read("none", func(io.ReadSeeker) error { return nil }); !isOutputError(err) {
			t.Errorf("no file: %v", err)
		}
		return errors.Join(s.Remove(), f.Write("a.csv", text))
	})
	if err != nil {
		t.Error(err)
	}
}

// TestOutputErrorOfAPanic: a task that cannot return the error of a file that was kept for it ends with that
// error, and no fault of the program is told.
func TestOutputErrorOfAPanic(t *testing.T) {
	lost := &OutputError{Path: ".scratch/shelf", Err: errors.New("input/output error")}
	err := Make(t.Context(), Out{Dir: filepath.Join(t.TempDir(), "out")}, func(*Folder) error { panic(lost) })
	if !errors.Is(err, lost) || err.Error() != "write .scratch/shelf: input/output error" {
		t.Error(err)
	}
}
