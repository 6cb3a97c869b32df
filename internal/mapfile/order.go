package mapfile

import "bytes"

// block is a piece made: its text and, where it was asked for, the same deflated.
type block struct {
	text     []byte
	deflated []byte
	err      error
}

// inOrder makes the pieces on the given number of goroutines and hands the
// blocks on in the order of the pieces. At most twice as many blocks as workers
// are held at a time. finish, when not nil, turns a block's text into what else
// it needs, still on the worker.
func inOrder(d *document, workers int, finish func(*block), emit func(*block) error) error {
	workers = max(workers, 1)
	done := make(chan struct{})
	defer close(done)
	jobs := make(chan job)
	queue := make(chan chan *block, workers)
	for range workers {
		go func() {
			m := &mapper{run: d.run}
			for j := range jobs {
				j.out <- build(m, j.make, finish)
			}
		}()
	}
	go dispatch(d.pieces, jobs, queue, done)
	for out := range queue {
		b := <-out
		if b.err != nil {
			return b.err
		}
		if err := emit(b); err != nil {
			return err
		}
	}
	return nil
}

type job struct {
	make piece
	out  chan *block
}

// dispatch hands each piece to a worker and its answer's channel to the queue,
// which is what keeps the order; it stops when done is closed.
func dispatch(pieces []piece, jobs chan<- job, queue chan<- chan *block, done <-chan struct{}) {
	defer close(jobs)
	defer close(queue)
	for _, p := range pieces {
		out := make(chan *block, 1)
		select {
		case queue <- out:
		case <-done:
			return
		}
		select {
		case jobs <- job{p, out}:
		case <-done:
			return
		}
	}
}

func build(m *mapper, p piece, finish func(*block)) *block {
	var buf bytes.Buffer
	err := p(m, &buf)
	b := &block{text: buf.Bytes(), err: err}
	if err == nil && finish != nil {
		finish(b)
	}
	return b
}
