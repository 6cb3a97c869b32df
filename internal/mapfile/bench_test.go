package mapfile

import (
	"fmt"
	"io"
	"testing"

	"driftreach/internal/result"
)

// counted counts what is written, for the rate.
type counted struct{ n int64 }

func (c *counted) Write(p []byte) (int, error) {
	c.n += int64(len(p))
	return len(p), nil
}

// BenchmarkDeliverables writes each file of a run of 100 thousand records in 8
// thousand stands of 1200 vertices, on one worker.
func BenchmarkDeliverables(b *testing.B) {
	run := many(100_000, 1200)
	for _, d := range Deliverables(Extras{KML: true, Network: true, Notices: true}) {
		name := made(b, d, fixture(), 1).name
		for _, workers := range []int{1, 2} {
			if workers > 1 && name != "map.kmz" {
				continue
			}
			b.Run(fmt.Sprintf("%s/%d", name, workers), func(b *testing.B) {
				benchmark(b, d, run, workers)
			})
		}
	}
}

func benchmark(b *testing.B, d Deliverable, run *result.Run, workers int) {
	b.ReportAllocs()
	for b.Loop() {
		var c counted
		if err := d.Write(into{&c}, run, workers); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(c.n)
	}
}

// BenchmarkCalendar: 45 000 visits due.
func BenchmarkCalendar(b *testing.B) {
	run := fixture()
	for len(run.Visits) < 45_000 {
		run.Visits = append(run.Visits, run.Visits[:min(len(run.Visits), 45_000-len(run.Visits))]...)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := WriteCalendar(io.Discard, run); err != nil {
			b.Fatal(err)
		}
	}
}
