package flow

import "driftreach/geo/parallel"

// inChunks calls work on consecutive ranges that cover 0 to n, one goroutine
// each. Work must write only to places of its own range.
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
	_ = tasks.Wait() // none fails
}

// chunkCount returns how many ranges inChunks makes.
func chunkCount(n, workers int) int {
	// below this a goroutine costs more than it saves; our choice
	const smallest = 256
	return max(1, min(workers, n/smallest))
}
