package main

import (
	"math/rand/v2"
	"strings"
	"testing"
)

// By hand: two halves of 10 acres, each a step up when looked at; the ground by turns
// tells of four quarters what it saw.
func TestJudged(t *testing.T) {
	up := []float64{1, 2, 3, 4, 5, 6, 7, 8}
	places := []place{{up, func(k int) bool { return k%2 == 0 }}, {up, func(k int) bool { return k == 0 || k%2 == 1 }}}
	got, err := judged(places, 8)
	// 2 at first; by turns 1+2, 3+2, 3+4, ...: 7 and 8 at the end, each look a step
	if err != nil || got.Begin != 20000 || got.End != 150000 || got.Test.S != 28 || got.Quarters != 8 {
		t.Errorf("%+v %v", got, err)
	}
}

// Every story has its row, whatever the number of series.
func TestTableHasEveryStory(t *testing.T) {
	if testing.Short() {
		t.Skip("judges some hundred series")
	}
	var b strings.Builder
	if err := write(&b, 1); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(b.String(), "\n"); n != len(stories)+6 {
		t.Errorf("%d lines:\n%s", n, b.String())
	}
	// ground that nobody knew before is no rise
	if got, err := judged(growing(rand.New(rand.NewPCG(1, 1)), 12), 12); err != nil || isTold(got) {
		t.Errorf("%s %v", got.Words(), err)
	}
}

// TestMissed: the goals by their words.
func TestMissed(t *testing.T) {
	for _, c := range []struct {
		name     string
		quarters int
		told     float64
		want     bool
	}{
		{stories[0].name, 8, 0.071, true}, {stories[0].name, 32, 0.07, false}, {stories[0].name, 6, 0.5, false},
		{fivePercent, 12, 0.79, true}, {fivePercent, 12, 0.8, false}, {fivePercent, 8, 0.1, false}, {stories[1].name, 12, 0.5, false},
	} {
		if err := missed(c.name, c.quarters, c.told); (err != nil) != c.want {
			t.Errorf("%s, %d quarters, %g: %v", c.name, c.quarters, c.told, err)
		}
	}
}
