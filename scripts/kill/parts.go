package main

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"time"
)

// parts is the number of parts of a quarter.
const parts = 7

// workers makes the parts of a split by workers that are killed at random moments, sometimes two on
// the same part, and merges the parts in the end.
type workers struct {
	*ground
	top     string
	random  *rand.Rand
	trace   bool
	answers [parts + 1]string // hashes of the results' folders, by part
	longest time.Duration     // of one part
}

// command is the command that makes one part in a folder.
func (w *workers) command(part int, results string) *exec.Cmd {
	name := fmt.Sprintf("%04d", part)
	return exec.Command(w.program, "batch", "--part", filepath.Join(w.top, "parts", name), "--out", filepath.Join(results, name))
}

// line is a command that takes a batch's flags.
func (w *workers) line(command string, more ...string) *exec.Cmd {
	return exec.Command(w.program, append([]string{
		command, "--points", w.points, "--streams", w.streams, "--quarter", "2026Q3", "--set", "drift.draws=20", "--set", settings[0],
	}, more...)...)
}

// prepare splits the quarter, and makes every part once without a kill.
func (w *workers) prepare() error {
	if out, err := w.line("split", "--parts", fmt.Sprint(parts), "--out", filepath.Join(w.top, "parts")).CombinedOutput(); err != nil {
		return fmt.Errorf("split: %w\n%s", err, out)
	}
	sound := filepath.Join(w.top, "sound")
	for part := 1; part <= parts; part++ {
		begin := time.Now()
		if out, err := w.command(part, sound).CombinedOutput(); err != nil {
			return fmt.Errorf("part %d: %w\n%s", part, err, out)
		}
		w.longest = max(w.longest, time.Since(begin))
		var err error
		if w.answers[part], err = hashOf(filepath.Join(sound, fmt.Sprintf("%04d", part))); err != nil {
			return err
		}
	}
	return nil
}

// work kills the given number of workers. After each kill it checks the folder and makes what is
// missing; in the end it compares the merged folder with the single batch.
func (w *workers) work(kills int) (t tally) {
	results := filepath.Join(w.top, "results")
	for i := 0; t.killed+t.interrupted < kills && i < 20*kills; i++ {
		part := 1 + w.random.IntN(parts)
		place := filepath.Join(results, fmt.Sprintf("%04d", part))
		if i%3 == 0 { // an existing result is not made again
			if err := os.RemoveAll(place); err != nil {
				t.wrong = append(t.wrong, err.Error())
			}
		}
		w.kill(part, results, i%5 == 0, &t)
		switch got, err := hashOf(place); {
		case errors.Is(err, fs.ErrNotExist):
			t.old++
		case err == nil && got == w.answers[part]:
			t.replaced++
		default:
			t.wrong = append(t.wrong, fmt.Sprintf("kill %d: the result of part %d is neither absent nor whole: %v", i, part, err))
		}
	}
	for part := 1; part <= parts; part++ {
		if out, err := w.command(part, results).CombinedOutput(); err != nil {
			t.wrong = append(t.wrong, fmt.Sprintf("part %d again: %v\n%s", part, err, out))
		}
	}
	if left, _ := filepath.Glob(filepath.Join(results, ".*")); len(left) > 0 {
		t.wrong = append(t.wrong, fmt.Sprint("left: ", left))
	}
	merged := filepath.Join(w.top, "merged")
	if out, err := exec.Command(w.program, "merge", results, "--out", merged).CombinedOutput(); err != nil {
		t.wrong = append(t.wrong, fmt.Sprintf("merge: %v\n%s", err, out))
	}
	if got, err := hashOf(merged); err != nil || got != w.ground.answers[0] {
		t.wrong = append(t.wrong, fmt.Sprintf("the merged folder is not the one batch: %v", err))
	}
	t.whole++
	return t
}

// kill starts one worker, or two on the same part, and kills the first at a random moment.
func (w *workers) kill(part int, results string, two bool, t *tally) {
	first := w.command(part, results)
	if err := first.Start(); err != nil {
		t.wrong = append(t.wrong, err.Error())
		return
	}
	var second *exec.Cmd
	if two {
		second = w.command(part, results)
		if err := second.Start(); err != nil {
			t.wrong = append(t.wrong, err.Error())
			second = nil
		}
	}
	at := time.Duration(w.random.Float64() * float64(w.longest))
	timer := time.AfterFunc(at, func() { _ = first.Process.Signal(syscall.SIGKILL) })
	err := first.Wait()
	timer.Stop()
	var exit *exec.ExitError
	switch {
	case err == nil:
		t.tooLate++
	case errors.As(err, &exit) && !exit.Exited():
		t.killed++
	case two && exit != nil && exit.ExitCode() == 4:
		t.tooLate++ // the other finished first
	default:
		t.wrong = append(t.wrong, fmt.Sprintf("part %d killed after %v: %v", part, at, err))
	}
	if second != nil {
		if err := second.Wait(); err != nil && (!errors.As(err, &exit) || exit.ExitCode() != 4) {
			t.wrong = append(t.wrong, fmt.Sprintf("part %d, the second worker: %v", part, err))
		}
	}
	if w.trace {
		fmt.Printf("part %d after %v: %v\n", part, at, err)
	}
}
