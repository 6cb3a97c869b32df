// Command kill runs batches and kills them at random moments, and prints the tally:
//
//	go run ./scripts/kill -runs 1000
//	go run ./scripts/kill -soak 300 -beside 8
//	go run ./scripts/kill -workers 100
//
// Two batches with different settings, whose outputs are known byte by byte, replace each other's
// folder in turn. After each kill the folder must be completely one of the two; now and then the
// next run must succeed and leave nothing else behind. With -soak, batches run to their end, one
// after another or at the same time, and must leave nothing else behind. With -workers, the workers
// that make the parts of a split are killed: each result must be absent or complete, and the merged
// result must equal the single batch.
package main

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

func main() {
	runs := flag.Int("runs", 0, "runs to kill")
	soak := flag.Int("soak", 0, "batches to run whole")
	beside := flag.Int("beside", 1, "runs side by side, each with a folder of its own")
	records := flag.Int("records", 60, "records of the demo to take; more make a run longer")
	seed := flag.Uint64("seed", 1, "of the moments")
	trace := flag.Bool("v", false, "print each kill")
	workers := flag.Int("workers", 0, "workers that make parts of a split to kill")
	program := flag.String("program", "", "a program that is built already")
	demo := flag.String("demo", "", "a demo that is made already")
	flag.Parse()
	if err := run(*runs, *soak, *beside, *workers, *records, *seed, *trace, *program, *demo); err != nil {
		fmt.Fprintln(os.Stderr, "kill:", err)
		os.Exit(1)
	}
}

func run(runs, soak, beside, kills, records int, seed uint64, trace bool, program, demo string) error {
	top, err := os.MkdirTemp("", "driftreach-kill-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(top)
	ground, err := prepare(top, records, program, demo)
	if err != nil {
		return err
	}
	fmt.Printf("a run takes %v\n", ground.whole.Round(time.Millisecond))
	if kills > 0 {
		w := workers{ground: ground, top: top, random: rand.New(rand.NewPCG(seed, 0)), trace: trace}
		if err := w.prepare(); err != nil {
			return err
		}
		t := w.work(kills)
		if err := t.print(1); err != nil || runs+soak == 0 {
			return err
		}
	}
	all := make(chan tally, beside)
	for i := range beside {
		go func() {
			w := worker{ground, filepath.Join(top, fmt.Sprint("place", i)), rand.New(rand.NewPCG(seed, uint64(i))), trace, ground.whole}
			all <- w.work(runs/beside, soak/beside)
		}()
	}
	var sum tally
	for range beside {
		sum.add(<-all)
	}
	return sum.print(beside)
}

// ground is what all workers share: the program, its input, and the two expected outputs.
type ground struct {
	program string
	points  string // files
	streams string
	answers [2]string // hashes of the folder, by setting
	whole   time.Duration
}

// settings are those of the two batches that replace each other.
var settings = [2]string{"aquatic.setback_m=30", "aquatic.setback_m=45"}

// few copies the header and the first records of a table whose records have no line breaks.
func few(from, to string, records int) error {
	text, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	lines := strings.SplitAfter(string(text), "\n")
	return os.WriteFile(to, []byte(strings.Join(lines[:min(len(lines), records+1)], "")), 0o644)
}

// prepare builds the program and writes the demo's input, unless these are given, and runs each
// setting once.
func prepare(top string, records int, program, demo string) (*ground, error) {
	if program == "" {
		program = filepath.Join(top, "driftreach")
		if out, err := exec.Command("go", "build", "-o", program, "./cmd/driftreach").CombinedOutput(); err != nil {
			return nil, fmt.Errorf("build: %w\n%s", err, out)
		}
	}
	if demo == "" {
		demo = filepath.Join(top, "demo")
		if out, err := exec.Command(program, "demo", "--out", demo).CombinedOutput(); err != nil {
			return nil, fmt.Errorf("demo: %w\n%s", err, out)
		}
	}
	in := filepath.Join(demo, "inputs")
	g := &ground{program: program, points: filepath.Join(top, "points.csv"), streams: filepath.Join(in, "streams.geojson")}
	if err := few(filepath.Join(in, "points-2026Q3.csv"), g.points, records); err != nil {
		return nil, err
	}
	for i := range settings {
		dir := filepath.Join(top, "answer", fmt.Sprint(i))
		begin := time.Now()
		if out, err := g.command(dir, i).CombinedOutput(); err != nil {
			return nil, fmt.Errorf("batch: %w\n%s", err, out)
		}
		g.whole = max(g.whole, time.Since(begin))
		var err error
		if g.answers[i], err = hashOf(dir); err != nil {
			return nil, err
		}
	}
	return g, nil
}

// command is a batch of one of the settings into dir.
func (g *ground) command(dir string, setting int) *exec.Cmd {
	return exec.Command(g.program, "batch", "--points", g.points, "--streams", g.streams,
		"--quarter", "2026Q3", "--set", "drift.draws=20", "--set", settings[setting], "--out", dir)
}
