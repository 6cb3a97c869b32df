package main

import (
	"crypto/sha256"
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

// worker runs batches into one folder.
type worker struct {
	*ground
	dir    string
	random *rand.Rand
	trace  bool
	lately time.Duration // time of a recent run; the load of the machine may change
}

// tally is what happened.
type tally struct {
	killed, tooLate, interrupted int // runs ended by SIGKILL, finished before it, ended by SIGINT or SIGTERM
	old, replaced                int // the folder after a kill: the old one, or the new one
	left, cleaned                int // kills that left files beside the folder, and next runs that removed them
	whole                        int // runs that were to finish, and did
	wrong                        []string
}

func (t *tally) add(o tally) {
	t.killed, t.tooLate, t.interrupted = t.killed+o.killed, t.tooLate+o.tooLate, t.interrupted+o.interrupted
	t.old, t.replaced = t.old+o.old, t.replaced+o.replaced
	t.left, t.cleaned, t.whole = t.left+o.left, t.cleaned+o.cleaned, t.whole+o.whole
	t.wrong = append(t.wrong, o.wrong...)
}

func (t *tally) print(beside int) error {
	fmt.Printf("%d side by side: %d killed, %d interrupted, %d ended before; folder wholly as before %d, wholly new %d; "+
		"%d kills left parts, %d next runs cleared them; %d whole runs; %d things went wrong\n",
		beside, t.killed, t.interrupted, t.tooLate, t.old, t.replaced, t.left, t.cleaned, t.whole, len(t.wrong))
	for _, w := range t.wrong {
		fmt.Println("WRONG:", w)
	}
	if len(t.wrong) > 0 {
		return fmt.Errorf("%d things went wrong", len(t.wrong))
	}
	return nil
}

// work kills one number of runs, and lets another number finish.
func (w *worker) work(kills, soak int) (t tally) {
	now := 0 // setting of the batch now in the folder
	w.wholeRun(now, &t)
	for i := range kills {
		next := 1 - now
		w.kill(next, i%4 == 3, &t)
		switch got, err := hashOf(w.dir); {
		case err != nil:
			t.wrong = append(t.wrong, fmt.Sprintf("kill %d: %v", i, err))
		case got == w.answers[now]:
			t.old++
		case got == w.answers[next]:
			t.replaced++
			now = next
		default:
			t.wrong = append(t.wrong, fmt.Sprintf("kill %d: the folder is neither the old nor the new one", i))
		}
		if w.parts() > 0 {
			t.left++
			if i%5 == 0 { // otherwise the next kill meets what this one left
				now = 1 - now
				w.wholeRun(now, &t)
				t.cleaned++
			}
		}
	}
	for range soak {
		now = 1 - now
		w.wholeRun(now, &t)
	}
	return t
}

// kill runs a batch and ends it at a random moment, with or without a chance to clean up.
func (w *worker) kill(setting int, gently bool, t *tally) {
	c := w.command(w.dir, setting)
	if err := c.Start(); err != nil {
		t.wrong = append(t.wrong, err.Error())
		return
	}
	// the last tenth of a run is when files are synced and folders swapped
	at := time.Duration(w.random.Float64() * 1.1 * float64(w.lately))
	signal := syscall.SIGKILL
	if gently {
		signal = []syscall.Signal{syscall.SIGINT, syscall.SIGTERM}[w.random.IntN(2)]
	}
	begin := time.Now()
	timer := time.AfterFunc(at, func() { _ = c.Process.Signal(signal) })
	err := c.Wait()
	timer.Stop()
	var exit *exec.ExitError
	switch {
	case err == nil:
		t.tooLate++
		w.lately = time.Since(begin)
	case errors.As(err, &exit) && !exit.Exited():
		t.killed++ // killed before the program handled signals, too
	case exit != nil && exit.ExitCode() == 130:
		t.interrupted++
		if n := w.parts(); n > 0 {
			t.wrong = append(t.wrong, fmt.Sprintf("%v after %v: %d parts are left", signal, at, n))
		}
	default:
		t.wrong = append(t.wrong, fmt.Sprintf("%v after %v: %v", signal, at, err))
	}
	if w.trace {
		fmt.Printf("%v after %v: %v\n", signal, at, err)
	}
}

// wholeRun runs a batch to its end and checks what it leaves.
func (w *worker) wholeRun(setting int, t *tally) {
	if out, err := w.command(w.dir, setting).CombinedOutput(); err != nil {
		t.wrong = append(t.wrong, fmt.Sprintf("a whole run: %v\n%s", err, out))
		return
	}
	got, err := hashOf(w.dir)
	if err != nil || got != w.answers[setting] || w.parts() > 0 {
		t.wrong = append(t.wrong, fmt.Sprintf("a whole run left another folder, or %d parts: %v", w.parts(), err))
		return
	}
	t.whole++
}

// parts counts the files beside the folder.
func (w *worker) parts() int {
	found, err := filepath.Glob(filepath.Join(filepath.Dir(w.dir), "."+filepath.Base(w.dir)+".*"))
	if err != nil {
		return 0
	}
	return len(found)
}

// hashOf returns one hash of a folder's file names and contents.
func hashOf(dir string) (string, error) {
	sum := sha256.New()
	err := filepath.WalkDir(dir, func(at string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		text, err := os.ReadFile(at)
		fmt.Fprintf(sum, "%s %x\n", at[len(dir):], sha256.Sum256(text))
		return err
	})
	return fmt.Sprintf("%x", sum.Sum(nil)), err
}
