// Command gigabyte writes a gigabyte of survey points as CSV and as GeoJSON outside the repository.
// Each file is read by package intake, and by driftreach check, which also compares all records
// with one another. It prints the megabytes of text read in a second of processor time (that of the
// program, and that of the system for memory and files), and the peak memory. It fails when reading
// is slower than 60 MB/s for CSV or 25 MB/s for GeoJSON.
//
//	go run ./scripts/gigabyte [-bytes 1000000000]
package main

import (
	"bufio"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"

	"driftreach/internal/format"
	"driftreach/internal/intake"
)

// form is a format, how a point is written in it, and the required reading speed, MB/s of processor
// time.
type form struct {
	name, file       string
	begin, row, tail string
	least            float64
}

var forms = []form{
	{"CSV", "points.csv", "occurrenceID,eventDate,decimalLongitude,decimalLatitude,management_status,patch_area_m2,canopy_cover_percent,recordedBy,occurrenceRemarks\n",
		"p%08d,2026-%02d-%02d,%.6f,%.6f,untreated,%.1f,%d,J. Walker,on the left bank below the ford\n", "", 60},
	{"GeoJSON", "points.geojson", "{\"type\":\"FeatureCollection\",\"features\":[\n",
		`{"type":"Feature","properties":{"occurrenceID":"p%08d","eventDate":"2026-%02d-%02d"},"geometry":{"type":"Point","coordinates":[%.6f,%.6f]},"more":{"management_status":"untreated","patch_area_m2":%.1f,"canopy_cover_percent":%d}}` + ",\n",
		"{\"type\":\"Feature\",\"properties\":{\"occurrenceID\":\"last\",\"eventDate\":\"2026-07-01\"},\"geometry\":{\"type\":\"Point\",\"coordinates\":[-10,40]}}]}\n", 25},
}

func main() {
	size := flag.Int64("bytes", 1e9, "bytes of each file")
	file := flag.String("read", "", "only read this file, as the measurement starts itself to do")
	flag.Parse()
	work := func() error { return measure(*size) }
	if *file != "" {
		work = func() error { return read(*file) }
	}
	if err := work(); err != nil {
		fmt.Fprintln(os.Stderr, "gigabyte: error:", err)
		os.Exit(1)
	}
}

func measure(size int64) error {
	dir, err := os.MkdirTemp("", "gigabyte-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "driftreach")
	if out, err := exec.Command("go", "build", "-o", program, "./cmd/driftreach").CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	fmt.Printf("| | records | MB | own s | system s | MB/s a core | peak memory, MB | bytes a record |\n|---|--:|--:|--:|--:|--:|--:|--:|\n")
	slow := ""
	for _, f := range forms {
		speed, err := f.measure(program, filepath.Join(dir, f.file), size)
		if err != nil {
			return err
		}
		if speed < f.least {
			slow += fmt.Sprintf(" %s is read at %.0f MB/s, below %.0f;", f.name, speed, f.least)
		}
	}
	if slow != "" {
		return errors.New(strings.TrimSpace(slow))
	}
	return nil
}

// read reads a file as the program does and says how many records it has.
func read(file string) error {
	info, err := os.Stat(file)
	if err != nil {
		return err
	}
	points, _, err := intake.ReadPoints(format.Source{
		Name: file, Size: info.Size(), Open: func() (io.ReadCloser, error) { return os.Open(file) },
	}, intake.DefaultOptions())
	fmt.Println(points.Read)
	return err
}

// measure writes the file, reads it, prints its results and returns the reading speed.
func (f form) measure(program, file string, size int64) (speed float64, err error) {
	records, err := f.write(file, size)
	if err != nil {
		return 0, err
	}
	defer os.Remove(file)
	for _, c := range []struct {
		name    string
		command *exec.Cmd
	}{
		{"check " + f.name, exec.Command(program, "check", "--points", file, "--quarter", "2026Q3")},
		{"read " + f.name, exec.Command(os.Args[0], "-read", file)},
	} {
		told, err := c.command.CombinedOutput()
		if err != nil || !strings.Contains(strings.NewReplacer(",", "", " ", "").Replace(string(told)), fmt.Sprint(records)) {
			return 0, fmt.Errorf("%s: %v: %.2000s", c.name, err, told)
		}
		state := c.command.ProcessState
		seconds := (state.UserTime() + state.SystemTime()).Seconds()
		// Linux counts in units of 1024 bytes
		memory := float64(state.SysUsage().(*syscall.Rusage).Maxrss) * 1024
		speed = float64(size) / 1e6 / seconds
		fmt.Printf("| %s | %d | %.0f | %.1f | %.1f | %.0f | %.0f | %.0f |\n", c.name, records, float64(size)/1e6, state.UserTime().Seconds(), state.SystemTime().Seconds(), speed, memory/1e6, memory/float64(records))
	}
	return speed, nil
}

// write makes a file of about size bytes: points from a fixed seed along an invented coast, each
// with its own id.
func (f form) write(file string, size int64) (records int, err error) {
	out, err := os.Create(file)
	if err != nil {
		return 0, err
	}
	defer out.Close()
	w := bufio.NewWriterSize(out, 1<<20)
	r := rand.New(rand.NewPCG(9, 9))
	io.WriteString(w, f.begin)
	for written := int64(0); written < size; records++ {
		n, err := fmt.Fprintf(w, f.row, records, 7+r.IntN(3), 1+r.IntN(28), -10-r.Float64(), 40+r.Float64(), 1+900*r.Float64(), r.IntN(101))
		if err != nil {
			return 0, err
		}
		written += int64(n)
	}
	if f.tail != "" {
		io.WriteString(w, f.tail)
		records++
	}
	return records, errors.Join(w.Flush(), out.Close())
}
