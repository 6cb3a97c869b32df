// Package parallel runs tasks at the same time. A panic in a task is passed to the caller that
// waits for the tasks, which can report it and clean up. Without this, Go would end the program at
// once.
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
	Stack []byte // of the task, where the panic happened
}

// Error returns the message of the panic.
func (f *Fault) Error() string { return fmt.Sprint("a fault of the program itself: ", f.Value) }

// Group is a group of tasks. The zero value has no limit. A task that panics counts as failed.
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

// SetLimit limits how many tasks run at a time.
func (g *Group) SetLimit(n int) { g.group().SetLimit(n) }

// Go starts a task as soon as the limit allows. Only one caller at a time may use it until the
// first task has begun.
func (g *Group) Go(task func() error) {
	g.group().Go(func() error { return Guard(task) })
}

// Do starts a task that returns no error.
func (g *Group) Do(task func()) {
	g.Go(func() error { task(); return nil })
}

// Wait waits for all tasks and returns the first error. It panics with the *Fault of a task that
// panicked.
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
		case *Fault: // from a task, with the task's own stack
			err = value
		default:
			err = &Fault{value, debug.Stack()}
		}
	}()
	return do()
}
