package main

import (
	"fmt"
	"runtime"
	"testing"
	"time"
)

// By hand: with 2 MB in use the heap grows by 6 MB to 8, three times as much, but Go's minimum of 4 MB
// at 100 % allows twice; with 4 MB by 4 MB; with 6 MB by 2, a third, which is less than the half that it
// grows at least.
func TestASmallHeapCollectsSeldom(t *testing.T) {
	for _, c := range []struct {
		use         uint64
		least, want int
	}{
		{0, 50, 200}, {2 << 20, 50, 200}, {3 << 20, 50, 166}, {4 << 20, 50, 100}, {6 << 20, 50, 50}, {8 << 20, 50, 50}, {100 << 20, 50, 50},
		{0, 400, 400}, {4 << 20, 400, 400}, {100 << 20, 400, 400},
	} {
		if got := growth(c.use, c.least); got != c.want {
			t.Errorf("with %d bytes in use it grows by %d %%, want %d", c.use, got, c.want)
		}
	}
}

// TestHeapAdapts: what is set follows what is in use, but for small differences; the least is always set
// when it is reached, and a new least is set at once.
func TestHeapAdapts(t *testing.T) {
	var set []int
	p := pacer{apply: func(percent int) { set = append(set, percent) }, least: 50, set: 200}
	for _, mega := range []uint64{1, 3, 4, 4, 6, 90, 3} {
		p.adapt(mega << 20)
	}
	p.adapt(3<<20 - 1<<17) // 178 for 166 %
	p.grow(400)
	if got, want := fmt.Sprint(set), "[166 100 50 166 400]"; got != want {
		t.Errorf("set were %s, want %s", got, want)
	}
}

// TestAtEachCollection: it is called after one collection and after the next.
func TestAtEachCollection(t *testing.T) {
	called := make(chan bool, 100)
	atEachCollection(func() { called <- true })
	for range 2 {
		runtime.GC()
		select {
		case <-called:
		case <-time.After(time.Minute):
			t.Fatal("not called in a minute")
		}
	}
}

// By hand: growing by 48 MB is 600 % of the 8 MB that a file of 1 MB comes to, and 60 % of 80 MB.
func TestASmallPartCollectsSeldom(t *testing.T) {
	for file, want := range map[int64]int{0: 400, 1e6: 400, 3e6: 200, 10e6: 60, 12e6: 50, 1e9: 50} {
		if got := collectOfPart(file); got != want {
			t.Errorf("a part of %d bytes lets the heap grow by %d %%, want %d", file, got, want)
		}
	}
}
