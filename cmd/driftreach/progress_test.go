package main

import (
	"bytes"
	"strings"
	"sync"
	"testing"
	"time"

	"driftreach/internal/disk"
	"driftreach/internal/host"
)

// A clock that moves a quarter of a second at each look.
func clock() func() time.Time {
	now := time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	var mu sync.Mutex
	return func() time.Time {
		mu.Lock()
		defer mu.Unlock()
		now = now.Add(250 * time.Millisecond)
		return now
	}
}

func TestStageTimesAreTabSeparatedLines(t *testing.T) {
	var out bytes.Buffer
	s := &screen{w: &out, times: true, now: clock()}
	read := s.Stage("read inputs")
	s.Bytes(10)
	read()
	s.Stage("cluster points into stands")()
	want := "stage\tread inputs\t0.250\nstage\tcluster points into stands\t0.250\n"
	if out.String() != want {
		t.Errorf("said %q, want %q", out.String(), want)
	}
}

func TestNothingIsShownWhenNobodyLooks(t *testing.T) {
	t.Setenv(stagesVariable, "")
	p := &program{ctx: t.Context(), stdout: new(bytes.Buffer), stderr: new(bytes.Buffer), disk: disk.System()}
	if got := p.progress(1000); got != (host.Silent{}) {
		t.Errorf("progress into a pipe is a %T", got)
	}
}

// On a terminal the first stage counts bytes, the later ones only show their name; the line is
// cleared at the end of each.
func TestBarsShowBytesThenStages(t *testing.T) {
	var out bytes.Buffer
	s := &screen{w: &out, bars: true, total: 2048, now: clock()}
	done := s.Stage("read inputs")
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() { s.Bytes(512) })
	}
	wait.Wait()
	done()
	s.Stage("draw aquatic zone")()
	shown := out.String()
	if !strings.Contains(shown, "read inputs") || !strings.Contains(shown, "draw aquatic zone") {
		t.Errorf("shown %q", shown)
	}
	first, second, _ := strings.Cut(shown, "draw aquatic zone")
	if !strings.Contains(first, "%") || strings.Contains(second, "%") {
		t.Errorf("share read in the first stage and in no other: %q", shown)
	}
	if last := shown[strings.LastIndex(shown[:len(shown)-1], "\r"):]; strings.TrimSpace(last) != "" {
		t.Errorf("left on the screen: %q", last)
	}
}
