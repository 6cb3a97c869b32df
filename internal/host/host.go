// Package host says where a run happens, and who hears how far it is.
package host

import (
	"runtime"

	"driftreach/internal/disk"
)

// Host is where a run happens. It has no effect on the answer.
type Host struct {
	Workers  int       // how many work at once; 0 means one for each processor
	Progress Progress  // nil means silent
	Disk     disk.Disk // nil means the machine's
}

// Goroutines returns how many workers there are.
func (h Host) Goroutines() int {
	if h.Workers > 0 {
		return h.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// Storage returns the disk that is written and read.
func (h Host) Storage() disk.Disk {
	if h.Disk == nil {
		return disk.System()
	}
	return h.Disk
}

// Listener returns who hears of the run.
func (h Host) Listener() Progress {
	if h.Progress == nil {
		return Silent{}
	}
	return h.Progress
}

// Progress hears where a run is. Implementations must be safe for many
// goroutines.
type Progress interface {
	// Stage begins a stage and returns what to call at its end.
	Stage(name string) (done func())
	// Bytes counts input read since the last call.
	Bytes(n int64)
}

// Silent is a Progress that says nothing.
type Silent struct{}

// Stage does nothing.
func (Silent) Stage(string) func() { return func() {} }

// Bytes does nothing.
func (Silent) Bytes(int64) {}
