package parallel

import (
	"context"
	"sync/atomic"
)

// taskSize is the number of indices in one task, enough to be worth a task. Our choice.
const taskSize = 16

// Each calls do for 0 to n-1 with the given number of workers, until all calls are done or ctx
// ends. It returns ctx's error in the second case.
func Each(ctx context.Context, n, workers int, do func(i int)) error {
	return EachWith(ctx, n, workers, taskSize, func() func(int) { return do })
}

// EachWith is Each for calls that need scratch space: begin makes the function that one worker calls.
// A worker takes size numbers at a time. Fewer than one worker are one.
func EachWith(ctx context.Context, n, workers, size int, begin func() func(i int)) error {
	var next atomic.Int64
	tasks, ctx := WithContext(ctx)
	for range max(1, workers) {
		do := begin()
		tasks.Go(func() error {
			for {
				first := int(next.Add(int64(size))) - size
				if first >= n {
					return nil
				}
				if err := ctx.Err(); err != nil {
					return err
				}
				for i := first; i < min(first+size, n); i++ {
					do(i)
				}
			}
		})
	}
	return tasks.Wait()
}
