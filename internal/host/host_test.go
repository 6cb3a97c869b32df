package host

import (
	"runtime"
	"testing"

	"driftreach/internal/disk"
)

// counting is a Progress that counts bytes.
type counting struct {
	Silent
	bytes *int64
}

func (c counting) Bytes(n int64) { *c.bytes += n }

// What a host gives where nothing is named, and what it was given.
func TestHost(t *testing.T) {
	var plain Host
	if plain.Goroutines() != runtime.GOMAXPROCS(0) || plain.Storage() != disk.System() || plain.Listener() != (Silent{}) {
		t.Errorf("%d workers, %v, %v", plain.Goroutines(), plain.Storage(), plain.Listener())
	}
	if n := (Host{Workers: -1}).Goroutines(); n != runtime.GOMAXPROCS(0) {
		t.Errorf("-1 workers are %d", n)
	}
	var bytes int64
	other := struct{ disk.Disk }{disk.System()}
	h := Host{Workers: 1, Progress: counting{bytes: &bytes}, Disk: other}
	h.Listener().Bytes(7)
	done := h.Listener().Stage("reading")
	done()
	if h.Goroutines() != 1 || h.Storage() != disk.Disk(other) || bytes != 7 {
		t.Errorf("%d workers, %v, %d bytes", h.Goroutines(), h.Storage(), bytes)
	}
}
