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
