package main

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"sync"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/part"
)

// The number of parts of a quarter that does not fit at once. Our choice: no fewer than 8, so that each
// needs less memory than putting them together. A part takes up to 12 times its share of the input (25,000
// of 1,000,000 records on 270,000 lines), and shall take half of what is allowed; more parts would need
// more room while they are written.
const (
	fewestInTurn = 8
	needOfPart   = 12
)

// partsInTurn returns into how many parts an input of so many bytes is split, to fit a limit.
func partsInTurn(limit, total int64) int {
	return int(min(part.Most, max(fewestInTurn, (2*needOfPart*total+limit-1)/limit)))
}

// usualNeed is how many bytes of memory a batch usually needs for a byte of input. Our choice: about what
// CSV and GeoJSON took (100,000 records on 27,000 lines, 31 MB: 160 MB in use at once). If less is allowed,
// it goes by parts at once; if it turns out to be more, it begins again by parts.
const usualNeed = 5

// runWithin runs one batch within the memory that is allowed. If it does not fit at once, it works through
// parts in turn, which need less: outlines, zone and stretches then wait on disk. The bytes are the same.
func (p *program) runWithin(m memoryFlag, j job, out folder.Out) error {
	limit, _ := m.limit()
	j.atWork = new(sync.WaitGroup)
	total := size(j.inputs)
	return inTurnIfNeeded(limit, total, leastNeed(j.inputs) > limit, func(inTurn bool) error {
		if inTurn {
			j.inTurn = partsInTurn(limit, total)
		}
		j.atWork.Wait() // a stage that was stopped may still hold its memory
		debug.FreeOSMemory()
		return p.fit(m, j.inputs, func(p *program) error { return p.runBatch(j, out) })
	})
}

// inTurnIfNeeded runs a batch of so many bytes of input at once, or by parts in turn; a limit of 0 is none.
// never says that it can fit in no way: then run says so before it reads anything.
func inTurnIfNeeded(limit, total int64, never bool, run func(inTurn bool) error) error {
	if never || limit == 0 || total <= limit/usualNeed {
		err := run(false)
		var over *memoryError
		var left *folder.LeftError
		if never || !errors.As(err, &over) || errors.As(err, &left) {
			return err
		}
	}
	return run(true)
}

// inParts splits the quarter of a job into parts and makes each in turn, in temporary files of the folder
// that is written. The returned job puts them together.
func (p *program) inParts(f *folder.Folder, j job) (job, error) {
	scratch, err := f.Scratch()
	if err != nil {
		return j, err
	}
	split := maker()
	split.Parts = j.inTurn
	if split, err = p.splitInto(j, scratch, split); err != nil {
		return j, err
	}
	host := p.host(j)
	for n := 1; n <= split.Parts; n++ {
		done := host.Listener().Stage(fmt.Sprintf("make part %d of %d", n, split.Parts))
		err := p.makeInTurn(scratch, part.Head{Kind: part.OfResult, Number: n, Split: split}, host.Goroutines())
		done()
		if err != nil {
			return j, err
		}
	}
	debug.FreeOSMemory() // what the parts took
	j.scratch = scratch
	j.results = part.ResultsOf(split, func(number int, do func(io.ReadSeeker) error) error {
		return scratch.Read(inTurnName(number, part.ResultFile), do)
	})
	return j, nil
}

// splitInto writes the parts as temporary files.
func (p *program) splitInto(j job, scratch *folder.Scratch, split part.Split) (part.Split, error) {
	c, err := p.split(j, scratch, split)
	if err != nil {
		return split, err
	}
	return c.Split, c.Write(p.ctx, func(number int, write func(io.Writer) error) error {
		return scratch.Write(inTurnName(number, part.PartFile), write)
	})
}

// makeInTurn makes one part and writes its result.
func (p *program) makeInTurn(scratch *folder.Scratch, h part.Head, workers int) error {
	var one part.Part
	err := scratch.Read(inTurnName(h.Number, part.PartFile), func(file io.ReadSeeker) (err error) {
		one, err = part.ReadPart(file)
		return err
	})
	if err != nil {
		return lostFile(err)
	}
	result, err := one.Make(p.ctx, workers)
	if err != nil {
		return err
	}
	return scratch.Write(inTurnName(h.Number, part.ResultFile), func(w io.Writer) error { return result.Write(w, h) })
}

// inTurnName is the name of a temporary file of a part.
func inTurnName(number int, file string) string { return part.Name(number) + "-" + file }

// lostFile returns the error of a temporary file that does not hold what was written.
func lostFile(err error) error {
	var output *folder.OutputError
	if errors.As(err, &output) {
		return err
	}
	return &folder.OutputError{Path: "a temporary file", Err: errors.New(disk.Reason(err))}
}

// gathered is the error of putting parts together that were made in turn.
func gathered(j job, err error) error {
	var wrong *part.Error
	if j.scratch != nil && errors.As(err, &wrong) {
		return lostFile(err)
	}
	return err
}
