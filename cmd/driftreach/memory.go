package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"runtime/debug"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"driftreach/internal/folder"
	"driftreach/internal/intake"
	"driftreach/internal/observed"
)

// memoryFlag is --memory: how many bytes the program may use; 0 to use GOMEMLIMIT, which is no limit if
// it is not set.
type memoryFlag int64

func (m *memoryFlag) add(flags *pflag.FlagSet) {
	flags.Var(m, "memory", "most memory to take, as in 4GB; an input that cannot fit is refused before it is read; without it, what GOMEMLIMIT says")
	group(flags, settingsGroup)
}

// String returns the size.
func (m *memoryFlag) String() string {
	if *m == 0 {
		return ""
	}
	return bytesText(int64(*m))
}

// Type is the name of the value in help.
func (m *memoryFlag) Type() string { return "SIZE" }

// memoryUnits are the units of a size, the longer ones first.
var memoryUnits = []struct {
	word  string
	bytes float64
}{{"GiB", 1 << 30}, {"MiB", 1 << 20}, {"GB", 1e9}, {"MB", 1e6}, {"G", 1e9}, {"M", 1e6}}

// leastMemory is the smallest --memory. Our choice: the program itself does not fit in less.
const leastMemory = 50e6

// Set takes a number and a unit.
func (m *memoryFlag) Set(text string) error {
	for _, unit := range memoryUnits {
		number, ok := strings.CutSuffix(text, unit.word)
		if !ok {
			continue
		}
		n, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
		if err != nil || !(n*unit.bytes >= leastMemory && n*unit.bytes < 1<<60) {
			break
		}
		*m = memoryFlag(n * unit.bytes)
		return nil
	}
	return errors.New("it takes a number and MB, GB, MiB or GiB, from 50MB, as in 4GB")
}

// limit returns the limit in bytes and where it comes from; 0 for no limit.
func (m memoryFlag) limit() (bytes int64, who string) {
	if m > 0 {
		return int64(m), "--memory " + m.String()
	}
	if set := debug.SetMemoryLimit(-1); set < math.MaxInt64 {
		return set, "GOMEMLIMIT=" + os.Getenv("GOMEMLIMIT")
	}
	return 0, ""
}

// inputOfByte is how many bytes of input, besides survey points, a byte of memory may suffice for. Our
// choice: connecting the streams takes some 500 bytes a line, however short it is, and a line with 140
// attributes of text has 5 KB. So no input is refused that would fit. One that passes this test and does
// not fit is stopped while it runs.
const inputOfByte = 10

// leastNeed returns the fewest bytes of memory that the inputs need. Survey points need none for a byte of
// text: they wait on disk where they do not fit.
func leastNeed(in observed.Inputs) int64 {
	total := size(in)
	for _, source := range in.Of[intake.RolePoints].Sources {
		total -= source.Size
	}
	return total / inputOfByte
}

// fit runs a command on these inputs within the memory limit. If they cannot fit, it says so before
// anything is read. If they turn out not to fit, it stops the run, and nothing is left behind.
func (p *program) fit(m memoryFlag, in observed.Inputs, do func(*program) error) error {
	limit, who := m.limit()
	if limit == 0 {
		return do(p)
	}
	if least := leastNeed(in); least > limit {
		return &memoryError{fmt.Sprintf("the input of %s needs at least %s of memory, more than %s allows", bytesText(size(in)), bytesText(least), who)}
	}
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(limit))
	ctx, stop := context.WithCancelCause(p.ctx)
	defer stop(nil)
	ended := make(chan struct{})
	defer close(ended)
	go watchMemory(ended, limit, func() {
		stop(&memoryError{fmt.Sprintf("the input of %s needs more memory than %s allows", bytesText(size(in)), who)})
	})
	within := *p
	within.ctx = ctx
	err := do(&within)
	var over *memoryError
	if errors.Is(err, context.Canceled) && errors.As(context.Cause(ctx), &over) {
		var left *folder.LeftError
		if errors.As(err, &left) {
			return errors.Join(over, left)
		}
		return over
	}
	return err
}

// lookEvery is how often memory is checked. Our choice: not much is allocated in that time.
const lookEvery = 50 * time.Millisecond

// watchMemory calls over once if the run does not fit: what it uses is above the limit in two checks in a
// row, and the collector could not help it. It is far above, or two collections ended since, and what the
// last one left is above the limit. Go's collector keeps it below as long as that is possible, but a
// collection of gigabytes takes seconds.
func watchMemory(ended <-chan struct{}, limit int64, over func()) {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	looks, first := 0, int64(0)
	for {
		select {
		case <-ended:
			return
		case <-tick.C:
		}
		now := memoryNow()
		if now.used <= limit {
			looks = 0
			continue
		}
		if looks++; looks == 1 {
			first = now.collections
		}
		if looks > 1 && (now.used > limit+limit/farAbove || now.collections > first+1 && now.left > limit) {
			over()
			return
		}
	}
}

// farAbove is the part of the limit that is far above it: a tenth. Our choice: more than what is allocated
// while garbage is collected.
const farAbove = 10

// memory is what the program uses, in bytes. Pages that hold nothing do not count: Go takes them again
// before it asks the system for more.
type memory struct {
	used        int64 // with garbage
	left        int64 // without what was garbage at the last collection
	collections int64 // that have ended
}

// memoryNow returns what the program uses.
func memoryNow() memory {
	m := metricsOf("/memory/classes/total:bytes", "/memory/classes/heap/released:bytes", "/memory/classes/heap/free:bytes",
		"/memory/classes/heap/objects:bytes", "/memory/classes/heap/unused:bytes", "/gc/cycles/total:gc-cycles")
	total, released, free, objects, unused := m[0], m[1], m[2], m[3], m[4]
	used := int64(total - released - free)
	return memory{used: used, left: used - int64(objects+unused) + int64(liveHeap()), collections: int64(m[5])}
}

// bytesText formats a size for a reader.
func bytesText(n int64) string {
	if n < 1e9 {
		return strconv.FormatFloat(math.Round(float64(n)/1e5)/10, 'f', -1, 64) + "MB"
	}
	return strconv.FormatFloat(math.Round(float64(n)/1e7)/100, 'f', -1, 64) + "GB"
}
