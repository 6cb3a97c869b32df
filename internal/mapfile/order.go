package mapfile

import (
	"bytes"

	"driftreach/geo/parallel"
)

// assembly makes the pieces of a document in several goroutines and passes the blocks on in the order
// of the pieces.
type assembly struct {
	doc    *document
	finish func(*block) // called by the worker to complete a block; may be nil
	spare  chan *block
	jobs   chan job
	queue  chan chan *block // results to come, in order
	done   chan struct{}
}

type job struct {
	make piece
	out  chan *block
}

// inOrder runs an assembly. It keeps at most about twice as many blocks as workers in memory.
func inOrder(d *document, workers int, finish func(*block), emit func(*block) error) error {
	workers = max(workers, 1)
	a := &assembly{
		doc: d, finish: finish, spare: make(chan *block, 2*workers+2), jobs: make(chan job),
		queue: make(chan chan *block, workers), done: make(chan struct{}),
	}
	defer close(a.done)
	for range workers {
		go a.work()
	}
	go a.dispatch()
	for out := range a.queue {
		for b := range out {
			if b.err != nil {
				return b.err
			}
			if err := emit(b); err != nil {
				return err
			}
			a.giveBack(b)
		}
	}
	return nil
}

// dispatch passes each piece to a worker and the channel for its result to the queue, which keeps the
// order. It stops when done is closed.
func (a *assembly) dispatch() {
	defer close(a.jobs)
	defer close(a.queue)
	for _, p := range a.doc.pieces {
		out := make(chan *block, 1)
		select {
		case a.queue <- out:
		case <-a.done:
			return
		}
		select {
		case a.jobs <- job{p, out}:
		case <-a.done:
			return
		}
	}
}

func (a *assembly) work() {
	m := &mapper{run: a.doc.run, packed: a.doc.packed, large: isLarge(len(a.doc.run.Stands))}
	var text bytes.Buffer // of packed pieces: empty once a piece is deflated
	for j := range a.jobs {
		b := a.take()
		if a.doc.packed {
			b.out, b.done, m.spill, m.block = j.out, a.done, b.spill, b
			b.text, text = text, bytes.Buffer{}
		}
		b.err = parallel.Guard(func() error { return j.make(m, &b.text) })
		if b.err == nil && a.finish != nil {
			a.finish(b)
			text, b.text = b.text, bytes.Buffer{}
		}
		select {
		case j.out <- b:
		case <-a.done: // nobody takes it any more
			return
		}
		close(j.out)
	}
}

// take returns a reused block, emptied, or a new one.
func (a *assembly) take() *block {
	select {
	case b := <-a.spare:
		b.text.Reset()
		b.deflated.Reset()
		b.sum, b.size, b.handed = 0, 0, 0
		return b
	default:
		return &block{}
	}
}

func (a *assembly) giveBack(b *block) {
	select {
	case a.spare <- b:
	default:
	}
}
