// Package parallel runs tasks side by side and brings a fault in one of them, a
// panic, to the goroutine that waits for them: there it can be reported and cleaned up
// after, where Go would otherwise end the program on the spot.
package parallel

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"

	"golang.org/x/sync/errgroup"
)

// Fault is a panic as an error: a mistake of the program, never of its input.
type Fault struct {
	Value any
	Stack []byte // of the goroutine in which it happened
}

// Error returns what the panic said.
func (f *Fault) Error() string { return fmt.Sprint("a fault of the program itself: ", f.Value) }

// Group is a group of tasks. The zero value has no limit. A task that panics counts
// as one that failed.
type Group struct {
	tasks *errgroup.Group
}

// WithContext returns a group and a context that is done once a task fails.
func WithContext(ctx context.Context) (*Group, context.Context) {
	tasks, ctx := errgroup.WithContext(ctx)
	return &Group{tasks}, ctx
}

func (g *Group) group() *errgroup.Group {
	if g.tasks == nil {
		g.tasks = new(errgroup.Group)
	}
	return g.tasks
}

// SetLimit bounds how many tasks are at work at a time.
func (g *Group) SetLimit(n int) { g.group().SetLimit(n) }

// Go starts a task, once there is room for it. It is called from one goroutine at
// a time until the first task has begun.
func (g *Group) Go(task func() error) {
	g.group().Go(func() error { return Guard(task) })
}

// Do starts a task that cannot fail.
func (g *Group) Do(task func()) {
	g.Go(func() error { task(); return nil })
}

// Wait waits for all tasks and returns the first error. It panics with the *Fault
// of a task that panicked.
func (g *Group) Wait() error {
	err := g.group().Wait()
	var fault *Fault
	if errors.As(err, &fault) {
		panic(fault)
	}
	return err
}

// Guard calls do and returns its error, or its panic as a *Fault.
func Guard(do func() error) (err error) {
	defer func() {
		switch value := recover().(type) {
		case nil:
		case *Fault: // of a task, with the stack it had there
			err = value
		default:
			err = &Fault{value, debug.Stack()}
		}
	}()
	return do()
}
