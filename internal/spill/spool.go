package spill

import "errors"

// Spool keeps any number of entries in the order in which they were added.
type Spool struct {
	at   Place
	name string
	out  *output
}

// NewSpool returns an empty spool whose file has the given name.
func NewSpool(at Place, name string) *Spool { return &Spool{at: at, name: name} }

// Add adds an entry.
func (s *Spool) Add(entry []byte) error {
	if s.out == nil {
		var err error
		if s.out, err = create(s.at, s.name); err != nil {
			return err
		}
	}
	return s.out.entry(nil, entry)
}

// Each calls yield with every entry. It may be called several times; nothing may be added after the
// first. The entry is valid until yield returns.
func (s *Spool) Each(yield func(entry []byte) error) error {
	if s.out == nil {
		return nil
	}
	if err := s.out.close(); err != nil {
		return err
	}
	file, err := s.at.Open(s.name)
	if err != nil {
		return err
	}
	in := newInput(file, 0, s.out.bytes)
	for err == nil {
		var more bool
		if more, err = in.next(); err != nil || !more {
			break
		}
		err = yield(in.value)
	}
	return errors.Join(err, file.Close())
}

// Close closes the file that is written.
func (s *Spool) Close() error { return s.out.close() }
