// Command converge shows how many draws the percentiles need. For 25 to 3200 draws and five seeds
// it prints how far P10, P50 and P90 are from the mean of the five seeds at 3200 draws: those of
// the reach at risk, and those of reach and exposure of the ten largest stands.
//
//	go run ./scripts/converge points.csv streams.geojson 2026Q3
package main

import (
	"context"
	"fmt"
	"io"
	"os"

	"driftreach/internal/batch"
	"driftreach/internal/format"
	"driftreach/internal/host"
	"driftreach/internal/observed"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// most is the number of draws that the others are compared with: our choice, sixteen times the
// default.
const most = 3200

// seeds is how many seeds are tried at each number of draws.
const seeds = 5

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "converge: error:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	if len(args) != 3 {
		return fmt.Errorf("usage: converge POINTS STREAMS QUARTER")
	}
	observed, err := read(args[0], args[1], args[2])
	if err != nil {
		return err
	}
	var rounds []round
	for draws := 25; draws <= most; draws *= 2 {
		r := round{draws: draws}
		for seed := 1; seed <= seeds; seed++ {
			s := settings.Default()
			s.Drift.Draws, s.Drift.Seed = draws, seed
			answer, err := batch.Compute(context.Background(), observed, s, host.Host{})
			if err != nil {
				return err
			}
			r.runs = append(r.runs, figuresOf(answer))
		}
		rounds = append(rounds, r)
	}
	return write(out, rounds)
}

// read reads one quarter's input.
func read(points, streams, name string) (observed.Quarter, error) {
	quarter, err := survey.ParseQuarter(name)
	if err != nil {
		return observed.Quarter{}, err
	}
	file := func(name string) []format.Source {
		return []format.Source{{Name: name, Open: func() (io.ReadCloser, error) { return os.Open(name) }}}
	}
	in := observed.Inputs{Of: map[string]observed.Files{"points": {Sources: file(points)}, "streams": {Sources: file(streams)}}, Quarter: quarter}
	return observed.Read(context.Background(), in, settings.Default(), host.Host{})
}
