package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"driftreach/internal/batch"
)

// stagesVariable asks, when it is 1, for a line "stage, name, seconds" on
// stderr at the end of every stage, for measuring.
const stagesVariable = "DRIFTREACH_STAGES"

// screen shows a run's progress: bytes while reading, then the stage at work.
type screen struct {
	w     io.Writer
	bars  bool  // w is a terminal
	times bool  // print each stage's seconds
	total int64 // bytes to read; 0 when unknown
	now   func() time.Time

	mu  sync.Mutex
	bar *progressbar.ProgressBar
}

// progress returns the progress of a run that reads total bytes.
func (p *program) progress(total int64) batch.Progress {
	file, ok := p.stderr.(*os.File)
	s := &screen{
		w: p.stderr, total: total, now: time.Now,
		bars:  ok && term.IsTerminal(int(file.Fd())),
		times: os.Getenv(stagesVariable) == "1",
	}
	if !s.bars && !s.times {
		return batch.Silent{}
	}
	return s
}

// Stage shows a stage until it is done.
func (s *screen) Stage(name string) func() {
	begin := s.now()
	s.show(name)
	return func() {
		s.clear()
		if s.times {
			s.mu.Lock()
			defer s.mu.Unlock()
			fmt.Fprintf(s.w, "stage\t%s\t%.3f\n", name, s.now().Sub(begin).Seconds())
		}
	}
}

// Bytes moves the bar on.
func (s *screen) Bytes(n int64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.bar != nil {
		_ = s.bar.Add64(n)
	}
}

// show begins a bar: of bytes for the first stage, which reads, and without an
// end for those after it.
func (s *screen) show(name string) {
	if !s.bars {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.finish()
	options := []progressbar.Option{
		progressbar.OptionSetWriter(s.w), progressbar.OptionSetDescription(name), progressbar.OptionClearOnFinish(),
		progressbar.OptionThrottle(100 * time.Millisecond), progressbar.OptionSetWidth(30), progressbar.OptionSetRenderBlankState(true),
	}
	length := int64(-1)
	if s.total > 0 {
		length, s.total = s.total, 0
		options = append(options, progressbar.OptionShowBytes(true))
	}
	s.bar = progressbar.NewOptions64(length, options...)
}

func (s *screen) clear() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.finish()
}

func (s *screen) finish() {
	if s.bar != nil {
		_ = s.bar.Finish()
		s.bar = nil
	}
}
