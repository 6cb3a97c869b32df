package geopackage

import (
	"io"
	"io/fs"
	"time"
)

// oneFileName is the database's name inside oneFile.
const oneFileName = "layer.gpkg"

// oneFile is a file system with one file. It keeps the read error.
type oneFile struct {
	data   *io.SectionReader
	failed *error
}

// Open implements fs.FS.
func (f oneFile) Open(name string) (fs.File, error) {
	if name != oneFileName {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &opened{io.NewSectionReader(f.data, 0, f.data.Size()), f.failed}, nil
}

// opened is that file, with its own seek position. It claims to have no write-ahead log: it replaces
// the two header bytes that make SQLite look for one.
type opened struct {
	*io.SectionReader
	failed *error
}

// logMarks is the offset of the bytes that say whether a database uses a write-ahead log
// (https://www.sqlite.org/fileformat.html, section 1.3.3).
const logMarks = 18

// Read implements fs.File.
func (o *opened) Read(b []byte) (int, error) {
	at, err := o.Seek(0, io.SeekCurrent)
	if err != nil {
		return 0, err
	}
	n, err := o.SectionReader.Read(b)
	if err != nil && err != io.EOF {
		*o.failed = err
	}
	for i := range b[:n] {
		if place := at + int64(i); place == logMarks || place == logMarks+1 {
			b[i] = 1
		} else if place > logMarks {
			break
		}
	}
	return n, err
}

// Close implements fs.File.
func (o *opened) Close() error { return nil }

// Stat implements fs.File.
func (o *opened) Stat() (fs.FileInfo, error) { return info{o.Size()}, nil }

type info struct{ size int64 }

func (i info) Name() string       { return oneFileName }
func (i info) Size() int64        { return i.size }
func (i info) Mode() fs.FileMode  { return 0o444 }
func (i info) ModTime() time.Time { return time.Time{} }
func (i info) IsDir() bool        { return false }
func (i info) Sys() any           { return nil }
