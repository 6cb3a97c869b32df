// Command driftreach maps the stands of a stream-side plant that spreads by
// floating fragments, and the stream below them that its fragments can reach.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"driftreach/internal/disk"
)

// collectAt is how much the heap grows between collections, in percent. Our
// choice: on a large batch half of Go's default takes a quarter off the peak of
// memory for a twentieth more processor time.
const collectAt = 50

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(collectAt)
	}
	os.Exit(start(os.Args[1:]))
}

// start runs one command until it ends or the user interrupts it. A second
// interrupt ends the program at once.
func start(args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop)
	ignoreFileSizeSignal()
	p := &program{ctx: ctx, stdout: os.Stdout, stderr: os.Stderr, disk: disk.System()}
	return p.report(p.run(args))
}
