package parallel

import (
	"context"
	"sync/atomic"
)

// taskSize keeps a task worth handing out. Our choice.
const taskSize = 16

// Each calls do for 0 to n-1 from the given number of goroutines, until all is done or
// ctx is; the error is then its own.
func Each(ctx context.Context, n, workers int, do func(i int)) error {
	var next atomic.Int64
	tasks, ctx := WithContext(ctx)
	for range workers {
		tasks.Go(func() error {
			for {
				first := int(next.Add(taskSize)) - taskSize
				if first >= n {
					return nil
				}
				if err := ctx.Err(); err != nil {
					return err
				}
				for i := first; i < min(first+taskSize, n); i++ {
					do(i)
				}
			}
		})
	}
	return tasks.Wait()
}
