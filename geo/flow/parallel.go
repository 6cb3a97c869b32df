package flow

import "driftreach/geo/parallel"

// inChunks calls work on consecutive ranges that cover 0 to n, each range concurrently. Work must
// write only to its own range.
func inChunks(n, workers int, work func(chunk, low, high int)) {
	workers = chunkCount(n, workers)
	if workers == 1 {
		work(0, 0, n)
		return
	}
	var tasks parallel.Group
	for w := range workers {
		tasks.Do(func() { work(w, n*w/workers, n*(w+1)/workers) })
	}
	_ = tasks.Wait() // no task returns an error
}

// chunkCount returns how many ranges inChunks makes.
func chunkCount(n, workers int) int {
	// smaller ranges cost more than they save; our choice
	const smallest = 256
	return max(1, min(workers, n/smallest))
}
