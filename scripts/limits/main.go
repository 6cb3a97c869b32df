// Command limits passes every malformed file of internal/testkit/malformed to the program, one at a
// time, and prints the processor time of the slowest and the memory of the largest. It fails if one
// took more than 2 s or 500 MB, panicked, or ended with an unexpected exit code.
//
//	go run ./scripts/limits
package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"

	"driftreach/internal/testkit/malformed"
)

// The limits that the project promises for any malformed file.
const (
	mostTime   = 2 * time.Second
	mostMemory = 500e6
)

// run is the result of one case.
type run struct {
	name   string
	took   time.Duration
	memory int64 // bytes, at most
	wrong  string
}

func main() {
	work := measure
	if len(os.Args) == 3 && os.Args[1] == "write" {
		work = func() error { return write(os.Args[2]) }
	}
	if err := work(); err != nil {
		fmt.Fprintln(os.Stderr, "limits:", err)
		os.Exit(1)
	}
}

// measure writes the cases in another process, since the memory of a process also counts for the
// processes it starts, and runs them.
func measure() error {
	dir, err := os.MkdirTemp("", "limits-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "driftreach")
	for _, c := range []*exec.Cmd{exec.Command("go", "build", "-o", program, "./cmd/driftreach"), exec.Command(os.Args[0], "write", dir)} {
		if out, err := c.CombinedOutput(); err != nil {
			return fmt.Errorf("%w: %s", err, out)
		}
	}
	list, err := os.ReadFile(filepath.Join(dir, "list"))
	if err != nil {
		return err
	}
	var runs []run
	for _, line := range strings.Split(strings.TrimSuffix(string(list), "\n"), "\n") {
		words := strings.Split(line, "\t")
		r, err := try(program, words[0], filepath.Join(dir, words[1]), words[2])
		if err != nil {
			return err
		}
		runs = append(runs, r)
	}
	return report(runs)
}

// write writes the cases into a folder, with a list of name, file and the flag for each.
func write(dir string) error {
	cases, err := malformed.Cases("testdata")
	if err != nil {
		return err
	}
	list := ""
	for i, c := range cases {
		base := fmt.Sprintf("case%03d", i)
		list += fmt.Sprintf("%s\t%s\t%s\n", c.Name, base+c.Ending, c.Role)
		if err := os.WriteFile(filepath.Join(dir, base+c.Ending), c.Bytes, 0o644); err != nil {
			return err
		}
		for ending, b := range c.Beside {
			if err := os.WriteFile(filepath.Join(dir, base+ending), b, 0o644); err != nil {
				return err
			}
		}
	}
	return os.WriteFile(filepath.Join(dir, "list"), []byte(list), 0o644)
}

// try runs one case. The other inputs are valid.
func try(program, name, file, role string) (run, error) {
	given := map[string]string{"points": "testdata/intake/points.geojson", "streams": "testdata/parquet/lines.geojson"}
	given[cmp.Or(role, "points")] = file
	args := []string{"check", "--quarter", "2026Q3", "--findings", file + ".findings.csv"}
	for flag, name := range given { // in any order
		args = append(args, "--"+flag, name)
	}
	var told bytes.Buffer
	command := exec.Command(program, args...)
	command.Stderr = &told
	err := command.Run()
	r := run{name: name}
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		return r, err
	}
	// processor time includes the garbage collector, whatever else runs
	r.took = command.ProcessState.UserTime() + command.ProcessState.SystemTime()
	// Linux counts in units of 1024 bytes
	r.memory = command.ProcessState.SysUsage().(*syscall.Rusage).Maxrss * 1024
	r.judge(command.ProcessState.ExitCode(), told.String())
	return r, nil
}

// judge says what is wrong with a run. The program exits with 0, with 1 when records were rejected,
// or with 3 when the input is unusable.
func (r *run) judge(code int, told string) {
	var wrong []string
	if code != 0 && code != 1 && code != 3 || strings.Contains(told, "goroutine ") {
		wrong = append(wrong, fmt.Sprintf("ended with %d: %.300s", code, told))
	}
	if code == 3 && !strings.Contains(told, "hint:") {
		wrong = append(wrong, "no hint")
	}
	if r.took > mostTime {
		wrong = append(wrong, "slow")
	}
	if r.memory > mostMemory {
		wrong = append(wrong, "much memory")
	}
	r.wrong = strings.Join(wrong, ", ")
}

// report prints the worst cases, and fails when anything is wrong.
func report(runs []run) error {
	slices.SortFunc(runs, func(a, b run) int {
		return cmp.Or(cmp.Compare(b.took, a.took), cmp.Compare(a.name, b.name))
	})
	largest := slices.MaxFunc(runs, func(a, b run) int { return cmp.Compare(a.memory, b.memory) })
	fmt.Printf("| malformed file | processor s | peak memory, MB | wrong |\n|---|--:|--:|---|\n")
	wrong := 0
	for i, r := range runs {
		if r.wrong != "" {
			wrong++
		}
		if i < 8 || r.wrong != "" || r.name == largest.name {
			fmt.Printf("| %s | %.2f | %.0f | %s |\n", r.name, r.took.Seconds(), float64(r.memory)/1e6, r.wrong)
		}
	}
	fmt.Printf("\n%d files, %d beyond the limits\n", len(runs), wrong)
	if wrong > 0 {
		return fmt.Errorf("%d of %d files are beyond the limits", wrong, len(runs))
	}
	return nil
}
