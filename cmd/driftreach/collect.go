package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"sync"
)

// collectAt is how much the heap grows between garbage collections at least, in percent. Our choice: of
// 100,000 points, 50 takes some 160 MB, 35 takes 148, 30 takes 145, and 25 takes 142 with a tenth more processor time.
const collectAt = 30

// smallHeap is the size up to which the heap grows without a collection. Our choice: a batch of 2,000
// points, of which some 3 MB are in use, collects 17 times instead of 39, in a tenth less processor time
// and with the same peak memory to 3 %. With 6 MB it is 23 times, with 10 MB 11 times and 5 % more memory.
const smallHeap = 8 << 20

// goMinimum is the heap below which Go collects nothing at 100 %; the minimum goes with the percentage
// (runtime, heapMinimum).
const goMinimum = 4 << 20

// pacer sets how much the heap grows between collections.
type pacer struct {
	mu      sync.Mutex
	least   int               // percent: how much it grows at least
	set     int               // percent, as set last
	reached uint64            // bytes: how large it was let grow so far
	apply   func(percent int) // sets it
}

// heap is the pacer of the program.
var heap = pacer{apply: func(percent int) { debug.SetGCPercent(percent) }}

// collect sets how much the heap grows between collections, in percent, unless the user's GOGC says so.
func collect(percent int) {
	if os.Getenv("GOGC") == "" {
		heap.grow(percent)
	}
}

// grow sets how much the heap grows at least. The first call begins to adapt this to what is in use after
// each collection, so that a small heap is not collected all the time.
func (p *pacer) grow(percent int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	begun := p.least > 0
	p.least, p.set = percent, growth(0, percent, 0)
	p.apply(p.set)
	if !begun {
		atEachCollection(func() { p.adapt(liveHeap()) })
	}
}

// adapt sets what is right for so many bytes in use. It leaves small differences upwards, since setting it
// stops the program for a moment.
func (p *pacer) adapt(use uint64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if now := growth(use, p.least, p.reached); now < p.set || 8*(now-p.set) > p.set {
		p.set = now
		p.apply(now)
	}
	p.reached = max(p.reached, use+use*uint64(p.set)/100)
}

// growth returns by how much a heap grows of which so many bytes are in use, in percent: by least, or up to
// the size that it has reached before, which costs no more memory, or up to smallHeap.
func growth(use uint64, least int, reached uint64) int {
	reached = max(smallHeap, reached)
	most := 100 * reached / goMinimum // with more, Go's minimum would be above that size
	if use >= reached {
		return least
	}
	return max(least, int(min(most, (reached-use)*100/max(1, use))))
}

// liveHeap returns how much of the heap was in use at the last collection, in bytes.
func liveHeap() uint64 {
	return metricsOf("/gc/heap/live:bytes")[0]
}

// metricsOf returns metrics of Go's runtime that are whole numbers.
func metricsOf(names ...string) []uint64 {
	samples, values := make([]metrics.Sample, len(names)), make([]uint64, len(names))
	for i, name := range names {
		samples[i].Name = name
	}
	metrics.Read(samples)
	for i := range samples {
		values[i] = samples[i].Value.Uint64()
	}
	return values
}

// collected is what a collection finds unused.
type collected struct{ _ *collected }

// atEachCollection calls do some time after each collection.
func atEachCollection(do func()) {
	runtime.AddCleanup(&collected{}, func(struct{}) {
		do()
		atEachCollection(do)
	}, struct{}{})
}

// How seldom a part collects. Our choice, by the largest parts of 100,000 and 1,000,000 records in 40:
// in use is about eight times the file, growing by 48 MB costs a part a quarter less processor time than
// growing by half (leastOfPart), and more than 400 % gains nothing.
const (
	inUseOfPart = 8
	growOfPart  = 48e6
	leastOfPart = 50
	mostOfPart  = 400
)

// collectOfPart returns how much the heap grows between the collections of a part whose file has so many
// bytes: a small heap would be collected all the time.
func collectOfPart(file int64) int {
	return int(min(mostOfPart, max(leastOfPart, growOfPart*100/(inUseOfPart*max(1, file)))))
}
