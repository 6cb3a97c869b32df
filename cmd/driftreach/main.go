// Command driftreach maps the stands of a stream-side plant that spreads by floating fragments, and the
// stream below them that the fragments can reach.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
	"time"

	"driftreach/geo/parallel"
	"driftreach/internal/disk"
)

func main() {
	collect(collectAt)
	stop := profile(os.Stderr)
	code := start(os.Args[1:])
	stop()
	os.Exit(code)
}

// start runs one command until it ends or the user interrupts it. A second
// interrupt ends the program at once.
func start(args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop)
	ignoreFileSizeSignal()
	p := &program{ctx: ctx, stdout: os.Stdout, stderr: os.Stderr, disk: disk.System()}
	return p.start(args)
}

// longest is how long an interrupted program may take to stop. It is longer than the time given to a
// folder being written, so that this is still removed. Our choice.
const longest = 8 * time.Second

// start runs a command and returns the program's exit code. One interrupt ends it, whatever the command
// is waiting for, even a reader of its output that has stopped reading.
func (p *program) start(args []string) int {
	done := make(chan int, 1)
	go func() {
		done <- p.report(parallel.Guard(func() error { return p.run(args) }))
	}()
	select {
	case code := <-done:
		return code
	case <-p.ctx.Done():
	}
	select {
	case code := <-done:
		return code
	case <-time.After(longest):
		return exitInterrupted // without a message: stderr may be what blocks
	}
}
