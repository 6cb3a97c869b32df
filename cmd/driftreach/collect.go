package main

import (
	"os"
	"runtime/debug"
)

// collectAt is how much the heap grows between garbage collections, in percent. Our choice: on a large
// batch, half of Go's default reduces the peak memory by a quarter and costs a twentieth more processor
// time.
const collectAt = 50

// collect sets how much the heap grows between collections, in percent, unless the user's GOGC says so.
func collect(percent int) {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(percent)
	}
}

// How seldom a part collects. Our choice, by the largest parts of 100,000 and 1,000,000 records in 40:
// in use is about eight times the file, growing by 48 MB costs a part a quarter less processor time than
// growing by half, and more than 400 % gains nothing.
const (
	inUseOfPart = 8
	growOfPart  = 48e6
	mostOfPart  = 400
)

// collectOfPart returns how much the heap grows between the collections of a part whose file has so many
// bytes: a small heap would be collected all the time.
func collectOfPart(file int64) int {
	return int(min(mostOfPart, max(collectAt, growOfPart*100/(inUseOfPart*max(1, file)))))
}
