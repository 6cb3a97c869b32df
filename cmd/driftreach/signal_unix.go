//go:build unix

package main

import (
	"os/signal"
	"syscall"
)

// ignoreFileSizeSignal ignores the signal for a file above the size limit. The write then returns an
// error, and the run ends as on a full disk.
func ignoreFileSizeSignal() { signal.Ignore(syscall.SIGXFSZ) }
