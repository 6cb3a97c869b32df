package mapfile

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"testing"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// counted counts the bytes written, for the rate.
type counted struct{ n int64 }

func (c *counted) Write(p []byte) (int, error) {
	c.n += int64(len(p))
	return len(p), nil
}

// BenchmarkDeliverables writes each file of a run with 100 000 records in 8000 stands of 1200
// vertices, on one worker.
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

// BenchmarkPlacemarks makes the placemarks of 10 000 records in 833 stands of 170 vertices, four
// fifths of the bytes of a map of 10 000 points and 1000 lines, with our coordinates, as the map has
// them, and with go-kml's.
func BenchmarkPlacemarks(b *testing.B) {
	run := many(10_000, 170)
	stands, reaches, points := result.StandTable(run), result.ReachTable(run), mapPoints(run)
	b.Run("ours", func(b *testing.B) {
		benchmarkPlacemarks(b, run, func(m *mapper, add func(kml.Element)) {
			for i := range run.Stands {
				add(m.stand(stands, i))
			}
			for i := range run.Reaches {
				add(m.reach(reaches, i))
			}
			for i := range run.Records.Listed {
				add(m.point(points, i, false))
			}
		})
	})
	b.Run("library", func(b *testing.B) {
		benchmarkPlacemarks(b, run, func(m *mapper, add func(kml.Element)) {
			for i := range run.Stands {
				m.name = append(m.name[:0], run.Stands[i].ID...)
				add(libraryStand(m, stands, i))
			}
			for i := range run.Reaches {
				m.name = append(m.name[:0], "River, km 0.00 to 1.00"...)
				add(libraryFeature(m, reaches, i, reachLook(run.Reaches[i].Class).id, libraryLines(m, run.Reaches[i].Path)))
			}
			for i := range run.Records.Listed {
				add(libraryPoint(m, points, i, false))
			}
		})
	})
}

func benchmarkPlacemarks(b *testing.B, run *result.Run, all func(m *mapper, add func(kml.Element))) {
	b.ReportAllocs()
	m, text := &mapper{run: run}, new(bytes.Buffer)
	for b.Loop() {
		text.Reset()
		enc := xml.NewEncoder(text)
		all(m, func(e kml.Element) {
			if err := encode(enc, e); err != nil {
				b.Fatal(err)
			}
		})
		if err := enc.Flush(); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(text.Len()))
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
		if err := writeCalendar(io.Discard, run); err != nil {
			b.Fatal(err)
		}
	}
}
