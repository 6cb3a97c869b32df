// Command generate makes survey points and streams of any size for speed measurements: points.csv
// and streams.geojson of an invented region in open ocean. The same arguments give the same bytes.
//
//	go run ./scripts/generate -points 100000 -lines 10000 -out DIR -seed 1
//
// -shape makes a region of another form; shapes.go lists them.
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
	form := flag.String("shape", "plain", "form of the region: "+shapeNames())
	flag.Parse()
	if err := run(*points, *lines, *out, *seed, *form); err != nil {
		fmt.Fprintln(os.Stderr, "generate: error:", err)
		os.Exit(1)
	}
}

func run(points, lines int, out string, seed uint64, form string) error {
	if points < 1 || lines < 1 || out == "" {
		return fmt.Errorf("-points and -lines must be 1 or more and -out a folder")
	}
	f, ok := shapes[form]
	if !ok {
		return fmt.Errorf("-shape %s is none of %s", form, shapeNames())
	}
	if err := os.MkdirAll(out, 0o777); err != nil {
		return err
	}
	r := rand.New(rand.NewPCG(seed, 1))
	region := f.region(r, lines)
	err := save(filepath.Join(out, "streams.geojson"), func(w io.Writer) error {
		return writeStreams(w, region)
	})
	if err != nil {
		return err
	}
	if f.lakes {
		// from a separate generator, so that the points are the same as in plain
		lakes := rand.New(rand.NewPCG(seed, 2))
		err = save(filepath.Join(out, "water.geojson"), func(w io.Writer) error { return writeLakes(w, lakes, region) })
	}
	if err != nil {
		return err
	}
	return save(filepath.Join(out, "points.csv"), func(w io.Writer) error {
		return writePoints(w, r, region, points, f)
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
