package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"

	"golang.org/x/term"

	"driftreach/internal/host"
)

// stagesVariable, if it is 1, asks for a line "stage, name, seconds" on stderr at the end of every
// stage, for measurements.
const stagesVariable = "DRIFTREACH_STAGES"

// screen shows a run's progress: bytes while reading, then the stage at work.
type screen struct {
	w     io.Writer
	bars  bool  // w is a terminal
	times bool  // print each stage's seconds
	total int64 // bytes to read; 0 when unknown
	now   func() time.Time

	mu     sync.Mutex
	name   string    // of the stage that is shown; blank for none
	share  bool      // the line ends with the share that is read
	shared bool      // the first stage, which reads, has begun
	read   int64     // bytes read so far
	drawn  time.Time // when the line was last drawn
	width  int       // of the line, for clearing it
}

// refresh is how often the line is redrawn. Our choice: fast enough to look continuous, at no cost.
const refresh = 100 * time.Millisecond

// progress returns the progress of a run that reads total bytes.
func (p *program) progress(total int64) host.Progress {
	file, ok := p.stderr.(*os.File)
	s := &screen{
		w: p.stderr, total: total, now: time.Now,
		bars:  ok && term.IsTerminal(int(file.Fd())),
		times: os.Getenv(stagesVariable) == "1",
	}
	if !s.bars && !s.times {
		return host.Silent{}
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

// Bytes adds to the share that is read.
func (s *screen) Bytes(n int64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.read += n
	if s.share && s.now().Sub(s.drawn) >= refresh {
		s.draw()
	}
}

// show begins a line: with the share that is read for the first stage, which reads, and only with the
// name for later stages.
func (s *screen) show(name string) {
	if !s.bars {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.wipe()
	s.name, s.share = name, s.total > 0 && !s.shared
	s.shared = true
	s.draw()
}

// draw writes the line over the previous one. The caller holds mu.
func (s *screen) draw() {
	line := s.name + " ..."
	if s.share {
		line = fmt.Sprintf("%s %3d %%", s.name, min(100, 100*s.read/s.total))
	}
	fmt.Fprintf(s.w, "\r%-*s", s.width, line)
	s.width, s.drawn = max(s.width, len(line)), s.now()
}

// clear removes the line.
func (s *screen) clear() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.wipe()
}

// wipe overwrites the line with blanks, which works on every terminal. The caller holds mu.
func (s *screen) wipe() {
	if s.width > 0 {
		fmt.Fprintf(s.w, "\r%s\r", strings.Repeat(" ", s.width))
	}
	s.name, s.share, s.width = "", false, 0
}
