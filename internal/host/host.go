// Package host has what a run needs from the machine: workers, disk and a receiver of progress.
package host

import (
	"runtime"

	"driftreach/internal/disk"
)

// Host is the machine of a run. It does not affect the results.
type Host struct {
	Workers  int       // number of goroutines; 0 means one for each processor
	Progress Progress  // nil means silent
	Disk     disk.Disk // nil means the machine's
}

// Goroutines returns the number of workers.
func (h Host) Goroutines() int {
	if h.Workers > 0 {
		return h.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// Storage returns the disk to read and write.
func (h Host) Storage() disk.Disk {
	if h.Disk == nil {
		return disk.System()
	}
	return h.Disk
}

// Listener returns the receiver of progress.
func (h Host) Listener() Progress {
	if h.Progress == nil {
		return Silent{}
	}
	return h.Progress
}

// Progress is told how far a run is. Implementations must be safe for concurrent use.
type Progress interface {
	// Stage begins a stage and returns a function to call at its end.
	Stage(name string) (done func())
	// Bytes reports the input bytes read since the last call.
	Bytes(n int64)
}

// Silent is a Progress that does nothing.
type Silent struct{}

// Stage does nothing.
func (Silent) Stage(string) func() { return func() {} }

// Bytes does nothing.
func (Silent) Bytes(int64) {}
