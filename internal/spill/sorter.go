package spill

import (
	"bytes"
	"cmp"
	"container/heap"
	"errors"
	"slices"

	"driftreach/internal/disk"
)

// Sorter sorts any number of entries by key. Entries with the same key come in the order in which they
// were added. It needs the memory of one run, and a page for each run when they are merged.
type Sorter struct {
	at   Place
	name string
	room int // bytes of a run

	texts []byte // keys and values of the run in memory
	order []spot
	out   *output // nil until a run is full
	runs  []run
}

// spot is an entry of the run in memory: where its key and value are in texts.
type spot struct{ from, middle, to int32 }

// run is a sorted run in the file.
type run struct{ from, to int64 }

// NewSorter returns an empty sorter whose file has the given name. A run has about room bytes.
func NewSorter(at Place, name string, room int) *Sorter {
	return &Sorter{at: at, name: name, room: room}
}

// Add adds an entry. Both texts are copied.
func (s *Sorter) Add(key, value []byte) error {
	if len(s.texts) > 0 && len(s.texts)+len(key)+len(value) > s.room {
		if err := s.flush(); err != nil {
			return err
		}
	}
	from := int32(len(s.texts))
	s.texts = append(append(s.texts, key...), value...)
	s.order = append(s.order, spot{from, from + int32(len(key)), int32(len(s.texts))})
	return nil
}

// sort sorts the run in memory.
func (s *Sorter) sort() {
	slices.SortStableFunc(s.order, func(a, b spot) int {
		return bytes.Compare(s.texts[a.from:a.middle], s.texts[b.from:b.middle])
	})
}

// flush writes the run in memory to the file.
func (s *Sorter) flush() error {
	if s.out == nil {
		var err error
		if s.out, err = create(s.at, s.name); err != nil {
			return err
		}
	}
	s.sort()
	from := s.out.bytes
	for _, e := range s.order {
		if err := s.out.entry(s.texts[e.from:e.middle], s.texts[e.middle:e.to]); err != nil {
			return err
		}
	}
	s.runs = append(s.runs, run{from, s.out.bytes})
	s.texts, s.order = s.texts[:0], s.order[:0]
	return nil
}

// Each calls yield with every entry, sorted. It may be called several times; nothing may be added after
// the first. Key and value are valid until yield returns.
func (s *Sorter) Each(yield func(key, value []byte) error) error {
	if s.out == nil {
		s.sort()
		for _, e := range s.order {
			if err := yield(s.texts[e.from:e.middle], s.texts[e.middle:e.to]); err != nil {
				return err
			}
		}
		return nil
	}
	if len(s.order) > 0 {
		if err := s.flush(); err != nil {
			return err
		}
	}
	s.texts, s.order = nil, nil
	if err := s.out.close(); err != nil {
		return err
	}
	file, err := s.at.Open(s.name)
	if err != nil {
		return err
	}
	return errors.Join(s.merge(file, yield), file.Close())
}

func (s *Sorter) merge(file disk.File, yield func(key, value []byte) error) error {
	var runs merging
	for i, r := range s.runs {
		m := &merged{input: newInput(file, r.from, r.to), number: i}
		if more, err := m.next(); err != nil {
			return err
		} else if more {
			runs = append(runs, m)
		}
	}
	heap.Init(&runs)
	for len(runs) > 0 {
		first := runs[0]
		if err := yield(first.key, first.value); err != nil {
			return err
		}
		more, err := first.next()
		switch {
		case err != nil:
			return err
		case more:
			heap.Fix(&runs, 0)
		default:
			heap.Pop(&runs)
		}
	}
	return nil
}

// Close closes the file that is written.
func (s *Sorter) Close() error { return s.out.close() }

// merged is a run that is being merged.
type merged struct {
	*input
	number int
}

// merging is a heap of runs by their next entry, and of equal ones the first run.
type merging []*merged

// Len implements heap.Interface.
func (m merging) Len() int { return len(m) }

// Less implements heap.Interface.
func (m merging) Less(i, j int) bool {
	return cmp.Or(bytes.Compare(m[i].key, m[j].key), cmp.Compare(m[i].number, m[j].number)) < 0
}

// Swap implements heap.Interface.
func (m merging) Swap(i, j int) { m[i], m[j] = m[j], m[i] }

// Push implements heap.Interface; it is never needed.
func (m *merging) Push(any) {}

// Pop implements heap.Interface.
func (m *merging) Pop() any {
	last := len(*m) - 1
	*m = (*m)[:last]
	return nil
}
