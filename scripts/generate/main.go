// Command generate makes survey points and streams of any size for speed
// measurements: points.csv and streams.geojson of an invented, empty-ocean
// region. The same arguments give the same bytes.
//
//	go run ./scripts/generate -points 100000 -lines 10000 -out DIR -seed 1
package main

import (
	"bufio"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
)

func main() {
	points := flag.Int("points", 2000, "survey points to make")
	lines := flag.Int("lines", 200, "stream centerlines to make, some 20 vertices each")
	out := flag.String("out", "", "folder for points.csv and streams.geojson")
	seed := flag.Uint64("seed", 1, "seed of the region")
	flag.Parse()
	if err := run(*points, *lines, *out, *seed); err != nil {
		fmt.Fprintln(os.Stderr, "generate: error:", err)
		os.Exit(1)
	}
}

func run(points, lines int, out string, seed uint64) error {
	if points < 1 || lines < 1 || out == "" {
		return fmt.Errorf("-points and -lines must be 1 or more and -out a folder")
	}
	if err := os.MkdirAll(out, 0o777); err != nil {
		return err
	}
	r := rand.New(rand.NewPCG(seed, 1))
	region := growRegion(r, lines)
	err := save(filepath.Join(out, "streams.geojson"), func(w io.Writer) error {
		return writeStreams(w, region)
	})
	if err != nil {
		return err
	}
	return save(filepath.Join(out, "points.csv"), func(w io.Writer) error {
		return writePoints(w, r, region, points)
	})
}

// save writes a file through a large buffer.
func save(name string, write func(io.Writer) error) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	defer f.Close()
	w := bufio.NewWriterSize(f, 1<<20)
	if err := write(w); err != nil {
		return err
	}
	if err := w.Flush(); err != nil {
		return err
	}
	return f.Close()
}
