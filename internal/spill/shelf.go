package spill

import (
	"bufio"
	"errors"
	"io"
	"sync"

	"driftreach/internal/disk"
)

// Shelf keeps texts that are asked for now and then, in any order: on disk if it has a place, otherwise
// in memory. Its methods may be called from several goroutines. Bytes that are as they were put do not
// depend on the order in which they were put.
type Shelf struct {
	at   Place // nil for memory
	name string

	mu     sync.Mutex
	blocks [][]byte // in memory
	out    disk.File
	to     *bufio.Writer
	end    int64     // bytes put so far
	ready  int64     // those that can be read from the file
	in     disk.File // the same file, for reading
}

// NewShelf returns an empty shelf. Its file has the given name; without a place it is in memory.
func NewShelf(at Place, name string) *Shelf { return &Shelf{at: at, name: name} }

// OnDisk says whether the texts are on disk.
func (s *Shelf) OnDisk() bool { return s.at != nil }

// Text is a text on a shelf. The zero value is an empty text.
type Text struct {
	shelf *Shelf
	at    int64
	size  int
}

// shelfBlock is the size of a block of a shelf in memory. Our choice: little is left unused.
const shelfBlock = 64 << 10

// Put copies a text to the shelf. The error is one of the disk.
func (s *Shelf) Put(text []byte) (Text, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.at == nil {
		return s.hold(text), nil
	}
	if s.out == nil {
		file, err := s.at.Create(s.name)
		if err != nil {
			return Text{}, err
		}
		s.out, s.to = file, bufio.NewWriterSize(file, pageBytes)
	}
	if _, err := s.to.Write(text); err != nil {
		return Text{}, err
	}
	t := Text{s, s.end, len(text)}
	s.end += int64(len(text))
	return t, nil
}

// Take is Put for a caller that cannot return an error: it panics with it, as Text.Read does.
func (s *Shelf) Take(text []byte) Text {
	t, err := s.Put(text)
	if err != nil {
		panic(err)
	}
	return t
}

// Keep is Put, in the form that shape.Packed takes.
func (s *Shelf) Keep(text []byte) (interface{ Bytes() []byte }, error) { return s.Put(text) }

// hold puts a text in memory: at is its block, in the upper half, and its place there.
func (s *Shelf) hold(text []byte) Text {
	last := len(s.blocks) - 1
	if last < 0 || len(s.blocks[last])+len(text) > cap(s.blocks[last]) {
		s.blocks = append(s.blocks, make([]byte, 0, max(len(text), shelfBlock)))
		last++
	}
	from := len(s.blocks[last])
	s.blocks[last] = append(s.blocks[last], text...)
	return Text{s, int64(last)<<32 | int64(from), len(text)}
}

// Len returns the number of bytes of the text.
func (t Text) Len() int { return t.size }

// Read returns the first n bytes of the text, in room if they fit. They may be the shelf's own: they
// must not be changed. It panics with the error of a disk that does not give back what was put on it,
// which a parallel.Guard hands to whoever waits.
func (t Text) Read(room []byte, n int) []byte {
	if n == 0 {
		return room[:0]
	}
	s := t.shelf
	if s.at == nil {
		s.mu.Lock()
		defer s.mu.Unlock()
		from := int(uint32(t.at))
		return s.blocks[t.at>>32][from : from+n : from+n]
	}
	in, err := s.reading(t.at + int64(n))
	if err == nil {
		if cap(room) < n {
			room = make([]byte, n)
		}
		room = room[:n]
		_, err = in.ReadAt(room, t.at)
	}
	if err != nil {
		panic(cutOff(err))
	}
	return room
}

// Part returns n bytes of the text from a place in it, as Read does.
func (t Text) Part(room []byte, from, n int) []byte {
	t.at += int64(from)
	return t.Read(room, n)
}

// Bytes returns the text, as Read does.
func (t Text) Bytes() []byte { return t.Read(nil, t.size) }

// reading returns the file, of which the first to bytes can be read.
func (s *Shelf) reading(to int64) (io.ReaderAt, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.ready < to {
		if err := s.to.Flush(); err != nil {
			return nil, err
		}
		s.ready = s.end
	}
	if s.in == nil {
		file, err := s.at.Open(s.name)
		if err != nil {
			return nil, err
		}
		s.in = file
	}
	return s.in, nil
}

// Close closes the file. Nothing can be read after it.
func (s *Shelf) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	var err error
	for _, file := range []disk.File{s.out, s.in} {
		if file != nil {
			err = errors.Join(err, file.Close())
		}
	}
	s.out, s.in = nil, nil
	return err
}
