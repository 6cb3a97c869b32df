package folder

import (
	"errors"
	"io"
	"path/filepath"

	"driftreach/internal/disk"
)

// scratchName is the folder of temporary files inside the folder that is being written.
const scratchName = ".scratch"

// Scratch is a place for temporary files that are needed only while a folder is written. They are on
// the same disk as the folder. Remove must have removed them before the folder takes its place.
type Scratch struct {
	disk   disk.Disk
	dir    string
	prefix string // of the names of its files
}

// Sub returns the same place for other files: their names get a prefix.
func (s *Scratch) Sub(prefix string) *Scratch {
	return &Scratch{s.disk, s.dir, s.prefix + prefix + "-"}
}

// Scratch makes the place. The error is an *OutputError.
func (f *Folder) Scratch() (*Scratch, error) {
	s := &Scratch{disk: f.disk, dir: filepath.Join(f.root, scratchName)}
	if err := f.disk.Mkdir(s.dir); err != nil {
		return nil, &OutputError{Path: scratchName, Err: err}
	}
	return s, nil
}

// Create makes a new file in the place.
func (s *Scratch) Create(name string) (disk.File, error) {
	file, err := s.disk.Create(filepath.Join(s.dir, s.prefix+name))
	if err != nil {
		return nil, &OutputError{Path: scratchName + "/" + name, Err: err}
	}
	return &scratchFile{file, scratchName + "/" + name}, nil
}

// Open opens a file of the place.
func (s *Scratch) Open(name string) (disk.File, error) {
	file, err := s.disk.Open(filepath.Join(s.dir, s.prefix+name))
	if err != nil {
		return nil, &OutputError{Path: scratchName + "/" + name, Err: err}
	}
	return &scratchFile{file, scratchName + "/" + name}, nil
}

// Write makes a new file in the place from what write sends.
func (s *Scratch) Write(name string, write func(io.Writer) error) error {
	file, err := s.Create(name)
	if err != nil {
		return err
	}
	return errors.Join(buffered(file, write), file.Close())
}

// Read opens a file of the place, passes it to do, and closes it.
func (s *Scratch) Read(name string, do func(io.ReadSeeker) error) error {
	file, err := s.Open(name)
	if err != nil {
		return err
	}
	info, err := file.Stat()
	if err == nil {
		err = do(io.NewSectionReader(file, 0, info.Size()))
	}
	return errors.Join(err, file.Close())
}

// Remove removes the place with all its files.
func (s *Scratch) Remove() error {
	if err := disk.RemoveAll(s.disk, s.dir); err != nil {
		return &OutputError{Path: scratchName, Err: err}
	}
	return nil
}

// scratchFile is a file whose errors are about the output.
type scratchFile struct {
	disk.File
	name string
}

// ReadAt implements io.ReaderAt.
func (f *scratchFile) ReadAt(p []byte, offset int64) (int, error) {
	n, err := f.File.ReadAt(p, offset)
	if err != nil && !errors.Is(err, io.EOF) {
		return n, &OutputError{Path: f.name, Err: err}
	}
	return n, err
}

// Write implements io.Writer.
func (f *scratchFile) Write(p []byte) (int, error) {
	n, err := f.File.Write(p)
	if err != nil {
		return n, &OutputError{Path: f.name, Err: err}
	}
	return n, nil
}

// Close implements io.Closer.
func (f *scratchFile) Close() error {
	if err := f.File.Close(); err != nil {
		return &OutputError{Path: f.name, Err: err}
	}
	return nil
}
