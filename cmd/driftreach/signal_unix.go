//go:build unix

package main

import (
	"os/signal"
	"syscall"
)

// ignoreFileSizeSignal turns the signal for a file over the limit into the
// write error it stands for, so that such a run ends like a full disk.
func ignoreFileSizeSignal() { signal.Ignore(syscall.SIGXFSZ) }
