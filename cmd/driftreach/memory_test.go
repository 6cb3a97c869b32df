package main

import (
	"bytes"
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"

	"driftreach/geo/parallel"
	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/format"
	"driftreach/internal/observed"
)

// inputsOf returns inputs of so many bytes of points and of streams.
func inputsOf(points, streams int64) observed.Inputs {
	return observed.Inputs{Of: map[string]observed.Files{
		"points": {Sources: []format.Source{{Name: "a.csv", Size: points}}}, "streams": {Sources: []format.Source{{Name: "b.csv", Size: streams}}},
	}}
}

// Points do not count, and the tenth of the rest must fit; a country of 10,000,000 records on 2,700,000
// lines (1.23 and 1.91 GB) passes in 4 GB, and in 1 GB.
func TestWhatCannotFitIsToldBeforeItIsRead(t *testing.T) {
	for _, c := range []struct {
		limit           memoryFlag
		points, streams int64
		refused         bool
	}{
		{0, 1e15, 1e15, false}, {1e9, 600e6, 10.1e9, true}, {1e9, 600e6, 9.9e9, false}, {1e9, 1e15, 1, false},
		{4e9, 1228985658, 1907591566, false}, {1e9, 1228985658, 1907591566, false}, {leastMemory, 2e6, 27e6, false},
	} {
		ran := false
		p := &program{ctx: t.Context(), stdout: new(bytes.Buffer), stderr: new(bytes.Buffer), disk: disk.System()}
		err := p.fit(c.limit, inputsOf(c.points, c.streams), func(*program) error { ran = true; return nil })
		if (err != nil) != c.refused || ran == c.refused || c.refused && exitCode(err) != exitOurs {
			t.Errorf("%+v: ran %v, error %v", c, ran, err)
		}
		if c.refused && err.Error() != "the input of 10.7GB needs at least 1.01GB of memory, more than --memory 1GB allows" {
			t.Errorf("it said %q", err)
		}
	}
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(1 << 30))
	err := (&program{ctx: t.Context()}).fit(0, inputsOf(0, 11e9), nil)
	if err == nil || !strings.Contains(err.Error(), "GOMEMLIMIT") {
		t.Errorf("with GOMEMLIMIT: %v", err)
	}
}

// A run that exceeds its memory limit is stopped, and leaves nothing.
func TestWhatTurnsOutNotToFitIsStopped(t *testing.T) {
	before := debug.SetMemoryLimit(-1)
	p := &program{ctx: t.Context(), stdout: new(bytes.Buffer), stderr: new(bytes.Buffer), disk: disk.System()}
	parent := t.TempDir()
	err := p.fit(leastMemory, observed.Inputs{}, func(p *program) error {
		return folder.Make(p.ctx, p.out(outFlags{dir: filepath.Join(parent, "out")}, folder.Batch, nil), func(*folder.Folder) error {
			var kept [][]byte
			for i := 0; p.ctx.Err() == nil; i++ {
				if len(kept) < 300 {
					kept = append(kept, bytes.Repeat([]byte{1}, 1<<20))
				}
			}
			return errors.Join(p.ctx.Err(), errors.New(string(kept[0][:1])))
		})
	})
	var over *memoryError
	if !errors.As(err, &over) || exitCode(err) != exitOurs || !strings.Contains(err.Error(), "more memory than --memory 50MB allows") {
		t.Errorf("error %v", err)
	}
	if left, _ := os.ReadDir(parent); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if now := debug.SetMemoryLimit(-1); now != before || before != math.MaxInt64 && before <= leastMemory {
		t.Errorf("the limit was %d and is %d", before, now)
	}
}

// What was let go of does not count, even where Go has not given its pages back; what is kept does, also
// without its garbage.
func TestOnlyWhatIsKeptCountsAsMemory(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(-1))
	kept := bytes.Repeat([]byte{1}, 64<<20)
	let := make([][]byte, 64)
	for i := range let {
		let[i] = bytes.Repeat([]byte{1}, 1<<20)
	}
	runtime.GC()
	full := memoryNow()
	clear(let)
	runtime.GC()
	now := memoryNow()
	const most = 8 << 20 // for what the test itself and others of the program hold
	if freed := full.used - now.used; freed < 64<<20-most || freed > 64<<20+most {
		t.Errorf("letting go of 64 MiB: %d in use, then %d", full.used, now.used)
	}
	if now.left < 64<<20 || now.left > now.used {
		t.Errorf("64 MiB are kept: %d left of %d", now.left, now.used)
	}
	garbage := bytes.Repeat([]byte{1}, 64<<20)
	if then := memoryNow(); then.used < now.used+64<<20-most || then.left > now.left+most || then.collections != now.collections {
		t.Errorf("with %d of garbage: %+v, before %+v", len(garbage), then, now)
	}
	runtime.KeepAlive(kept)
}

func TestSizesOfMemory(t *testing.T) {
	for text, want := range map[string]int64{"4GB": 4e9, "1.5 GiB": 3 << 29, "64MiB": 64 << 20, "500M": 500e6, "50MB": 50e6, "49MB": 0, "4": 0, "GB": 0, "-1GB": 0, "NaNGB": 0, "1e300GB": 0} {
		var m memoryFlag
		if err := m.Set(text); (err == nil) != (want > 0) || int64(m) != want {
			t.Errorf("%q: %d, %v", text, m, err)
		}
	}
}

// A panic anywhere in a run, even in a nested task, is reported as a fault of the program, with its
// place and exit code 5, and nothing is left behind.
func TestAFaultOfOurOwn(t *testing.T) {
	parent := t.TempDir()
	var stderr bytes.Buffer
	p := &program{ctx: t.Context(), stdout: new(bytes.Buffer), stderr: &stderr, disk: disk.System()}
	err := folder.Make(context.Background(), folder.Out{Dir: filepath.Join(parent, "out")}, func(f *folder.Folder) error {
		var tasks parallel.Group
		tasks.Do(func() { emptyMap()["x"]++ })
		return tasks.Wait()
	})
	if code := p.report(err); code != exitOurs {
		t.Errorf("exit code %d", code)
	}
	for _, want := range []string{"error: a fault of the program itself: assignment to entry in nil map", "hint: please report it", "memory_test.go"} {
		if !strings.Contains(stderr.String(), want) {
			t.Errorf("no %q in %s", want, stderr.String())
		}
	}
	if left, _ := os.ReadDir(parent); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// emptyMap is a map that cannot be written to.
func emptyMap() map[string]int { return nil }
