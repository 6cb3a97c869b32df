package parallel

import (
	"context"
	"errors"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

// A panic three groups deep is returned where the outermost group is guarded, with the stack of
// where it happened.
func TestAFaultComesToWhoeverWaits(t *testing.T) {
	err := Guard(func() error {
		var outer Group
		outer.Go(func() error {
			var inner Group
			inner.Do(func() { breakDown(nil) })
			return inner.Wait()
		})
		return outer.Wait()
	})
	var fault *Fault
	if !errors.As(err, &fault) || !strings.Contains(fault.Error(), "index out of range") || !strings.Contains(string(fault.Stack), "breakDown") {
		t.Errorf("%v", err)
	}
}

//go:noinline
func breakDown(none []int) int { return none[len(none)] }

func TestErrorsAndLimits(t *testing.T) {
	broken := errors.New("broken")
	g, ctx := WithContext(context.Background())
	g.SetLimit(2)
	var most, now atomic.Int64
	for i := range 20 {
		g.Go(func() error {
			if n := now.Add(1); n > most.Load() {
				most.Store(n)
			}
			defer now.Add(-1)
			if i == 7 {
				return broken
			}
			return nil
		})
	}
	if err := g.Wait(); err != broken || ctx.Err() == nil || most.Load() > 2 {
		t.Errorf("error %v, context %v, %d at a time", err, ctx.Err(), most.Load())
	}
	var none Group
	if err := none.Wait(); err != nil {
		t.Error(err)
	}
}

// With a limit of two, of twenty tasks that each wait a moment never more than two run at once;
// without a limit more do.
func TestLimit(t *testing.T) {
	for _, limit := range []int{0, 1, 2, 5} {
		var g Group
		if limit > 0 {
			g.SetLimit(limit)
		}
		var most, now atomic.Int64
		for range 20 {
			g.Do(func() {
				n := now.Add(1)
				for m := most.Load(); n > m && !most.CompareAndSwap(m, n); m = most.Load() {
				}
				time.Sleep(2 * time.Millisecond)
				now.Add(-1)
			})
		}
		if err := g.Wait(); err != nil {
			t.Fatal(err)
		}
		if got := most.Load(); limit > 0 && got > int64(limit) || limit == 0 && got < 2 {
			t.Errorf("%d at work, the limit is %d", got, limit)
		}
	}
}
