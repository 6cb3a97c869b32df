package main

import (
	"fmt"
	"runtime"
	"testing"
	"time"
)

// By hand: with 2 MB in use the heap grows by 6 MB to 8, three times as much, but Go's minimum of 4 MB
// at 100 % allows twice; with 4 MB by 4 MB; with 6 MB by 2, a third, which is less than the half that it
// grows at least. Where it was 100 MB before it grows to that again: with 50 MB by 50, with 90 by 10.
func TestASmallHeapCollectsSeldom(t *testing.T) {
	for _, c := range []struct {
		use     uint64
		least   int
		reached uint64
		want    int
	}{
		{0, 50, 0, 200}, {2 << 20, 50, 0, 200}, {3 << 20, 50, 0, 166}, {4 << 20, 50, 0, 100}, {6 << 20, 50, 0, 50}, {8 << 20, 50, 0, 50},
		{100 << 20, 50, 0, 50}, {0, 400, 0, 400}, {4 << 20, 400, 0, 400}, {100 << 20, 400, 0, 400},
		{2 << 20, 50, 8 << 20, 200}, {50 << 20, 25, 100 << 20, 100}, {75 << 20, 25, 100 << 20, 33}, {90 << 20, 25, 100 << 20, 25}, {1 << 20, 25, 100 << 20, 2500},
	} {
		if got := growth(c.use, c.least, c.reached); got != c.want {
			t.Errorf("with %d bytes in use of %d before it grows by %d %%, want %d", c.use, c.reached, got, c.want)
		}
	}
}

// TestHeapAdapts: what is set follows what is in use, but for small differences upwards, and lets the heap
// be as large as it was; a new least is set at once. By hand: with 90 MB in use it may be 135, which is 50 %
// more than 90 and 125 % more than 60; with 100 it may be 150, which is twice 75, and 103 % more than 74.
func TestHeapAdapts(t *testing.T) {
	var set []int
	p := pacer{apply: func(percent int) { set = append(set, percent) }, least: 50, set: 200}
	for _, mega := range []uint64{1, 3, 4, 4, 6, 90, 60, 100, 75, 74} {
		p.adapt(mega << 20)
	}
	p.grow(400)
	if got, want := fmt.Sprint(set), "[166 100 50 125 50 100 400]"; got != want {
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
