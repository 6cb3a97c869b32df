package parallel_test

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"

	"driftreach/geo/parallel"
)

// TestEach: every number is handled once, for any number of workers and for counts around the size
// of a task. None is handled after the context is done; its error is then returned. A panic reaches
// the caller.
func TestEach(t *testing.T) {
	for _, n := range []int{0, 1, 15, 16, 17, 32, 100} {
		for _, workers := range []int{1, 2, 8} {
			done := make([]int32, n)
			if err := parallel.Each(t.Context(), n, workers, func(i int) { atomic.AddInt32(&done[i], 1) }); err != nil {
				t.Fatal(err)
			}
			for i, times := range done {
				if times != 1 {
					t.Errorf("%d of %d, %d workers: %d times", i, n, workers, times)
				}
			}
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := parallel.Each(ctx, 100, 2, func(int) { t.Error("called") }); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	defer func() {
		if recover() == nil {
			t.Error("the panic of a task is lost")
		}
	}()
	_ = parallel.Each(t.Context(), 3, 2, func(int) { panic("a task") })
}

// TestEachWith: every number is handled once, whatever the number of workers and the numbers that one
// takes at a time, and each worker begins once with room of its own. No worker is one.
func TestEachWith(t *testing.T) {
	for _, n := range []int{0, 1, 7, 100} {
		for _, workers := range []int{0, 1, 3} {
			for _, size := range []int{1, 3, 64} {
				done, begun := make([]int32, n), 0
				err := parallel.EachWith(t.Context(), n, workers, size, func() func(int) {
					begun++
					var own []int
					return func(i int) {
						own = append(own, i) // the race detector would tell of a shared one
						atomic.AddInt32(&done[i], 1)
					}
				})
				if err != nil || begun != max(1, workers) {
					t.Errorf("%d, %d workers, %d at a time: begun %d times, %v", n, workers, size, begun, err)
				}
				for i, times := range done {
					if times != 1 {
						t.Errorf("%d of %d, %d workers, %d at a time: %d times", i, n, workers, size, times)
					}
				}
			}
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := parallel.EachWith(ctx, 100, 2, 1, func() func(int) { return func(int) { t.Error("called") } }); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// TestDoAndContext: tasks that cannot fail are waited for, and the first error cancels the context
// of the other tasks.
func TestDoAndContext(t *testing.T) {
	tasks, ctx := parallel.WithContext(t.Context())
	var sum atomic.Int64
	for i := range 10 {
		tasks.Do(func() { sum.Add(int64(i)) })
	}
	tasks.Go(func() error { return errors.New("enough") })
	if err := tasks.Wait(); err == nil || err.Error() != "enough" || sum.Load() != 45 || ctx.Err() == nil {
		t.Error(err, sum.Load(), ctx.Err())
	}
}
