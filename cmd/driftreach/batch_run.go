package main

import (
	"errors"
	"slices"

	"driftreach/internal/batch"
	"driftreach/internal/check"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/spill"
	"driftreach/internal/survey"
)

// runBatch runs one batch into the folder out and prints the closing table.
func (p *program) runBatch(j job, out folder.Out) error {
	var run *result.Run
	var edition func(*folder.Folder) error
	err := folder.Make(p.ctx, out, func(f *folder.Folder) (err error) {
		if j.atWork != nil {
			j.atWork.Add(1)
			defer j.atWork.Done()
		}
		run, edition, err = p.deliver(f, j)
		return err
	})
	if err == nil && j.public != nil {
		if err = folder.Make(p.ctx, *j.public, edition); err != nil {
			p.say("warning", "the batch is in "+out.Dir+"; only its public edition failed")
		}
	}
	if err != nil {
		return err
	}
	closing{run: run, out: out.Dir, open: "open report.html and map.html in a browser, map.kmz in a map viewer"}.write(p.stderr)
	return rejected(run.Findings)
}

// deliver makes one batch, from the inputs to the files in f. It also returns a function that writes
// the public edition.
func (p *program) deliver(f *folder.Folder, j job) (*result.Run, func(*folder.Folder) error, error) {
	if j.inTurn > 0 {
		var err error
		if j, err = p.inParts(f, j); err != nil {
			return nil, nil, err
		}
	}
	host := p.host(j)
	shelf, scratch, err := shelfOf(j, f)
	if err != nil {
		return nil, nil, err
	}
	tidy := func() error { return nil }
	if scratch != nil {
		tidy = func() error { return errors.Join(shelf.Close(), scratch.Remove()) }
	}
	observed, err := p.observe(j, host, f, p.reading(j, host, scratch, shelf))
	if err != nil {
		return nil, nil, errors.Join(err, tidy())
	}
	files := slices.Concat(observed.Files, j.files)
	made, err := p.gather(j, &observed, files, shelf)
	if err != nil {
		return nil, nil, errors.Join(gathered(j, err), tidy())
	}
	// what is asked of the input is asked now, so that it is let go of as the stages are done with it
	d := batch.Delivery{Version: version, Settings: j.settings, Inputs: files, Water: observed.WaterContent(), Corrections: observed.Corrections, Extras: j.extras}
	run, err := batch.Finish(p.ctx, observed, made, j.settings, host)
	if err != nil {
		return nil, nil, errors.Join(err, tidy())
	}
	edition := func(f *folder.Folder) error { return d.DeliverPublic(f, run, host) }
	return run, edition, errors.Join(d.Deliver(f, run, host), tidy())
}

// shelfOf returns the shelf of a job that is made from parts: on disk, in the folder that is written, with
// the place where it is. With a public edition, which is made after that folder, the shelf is in memory.
func shelfOf(j job, f *folder.Folder) (*spill.Shelf, *folder.Scratch, error) {
	scratch := j.scratch
	if j.results != nil && scratch == nil && j.public == nil {
		var err error
		if scratch, err = f.Scratch(); err != nil {
			return nil, nil, err
		}
	}
	if scratch == nil || j.public != nil {
		return spill.NewShelf(nil, ""), scratch, nil
	}
	return spill.NewShelf(scratch, "shelf"), scratch, nil
}

// reading returns how the inputs of a job are read: where its shelf is on disk, with records that go there
// as they are read, so that they are never all in memory. The records of a batch that goes on from another
// are all compared with it, and those that corrections may be about are looked for among all: these are
// read at once.
func (p *program) reading(j job, host host.Host, scratch *folder.Scratch, shelf *spill.Shelf) func(observed.Inputs) (observed.Quarter, error) {
	atOnce := func(in observed.Inputs) (observed.Quarter, error) { return observed.Read(p.ctx, in, j.settings, host) }
	if !shelf.OnDisk() || j.previous.Path != "" {
		return atOnce
	}
	return func(in observed.Inputs) (observed.Quarter, error) {
		q, err := observed.ReadKept(p.ctx, in, j.settings, host, scratch.Sub("read"), func(b []byte) (survey.Text, error) { return shelf.Put(b) })
		if errors.Is(err, observed.ErrAtOnce) {
			return atOnce(in)
		}
		return q, err
	}
}

func (p *program) host(j job) host.Host {
	return host.Host{Workers: j.workers, Progress: p.progress(size(j.inputs)), Disk: p.disk}
}

// observe reads and checks the inputs and continues the previous batch. f is the folder of a batch that
// will be replaced, which must be of the same area; nil for none.
func (p *program) observe(j job, host host.Host, f *folder.Folder, read func(observed.Inputs) (observed.Quarter, error)) (in observed.Quarter, err error) {
	if j, err = p.after(j); err != nil {
		return in, err
	}
	if in, err = read(j.inputs); err != nil {
		return in, err
	}
	if err := usable(&in); err != nil {
		return in, err
	}
	if f != nil {
		if err := batch.KeepArea(p.ctx, f, &in, host); err != nil {
			return in, err
		}
	}
	if j.previous.Path == "" {
		return batch.Begin(in, j.settings)
	}
	return p.goOn(j, in, host)
}

// after returns the job with the quarter of the batch that it continues, if any.
func (p *program) after(j job) (job, error) {
	if j.previous.Path == "" {
		return j, nil
	}
	err := p.steadily(j.previous.Path, func(at string) (err error) {
		j.inputs.After, err = earlier.QuarterOf(p.ctx, p.disk, j.previous.In(at), j.inputs.Quarter)
		return err
	})
	return j, err
}

// goOn adds the batch that a job continues to its input.
func (p *program) goOn(j job, in observed.Quarter, host host.Host) (observed.Quarter, error) {
	err := p.steadily(j.previous.Path, func(at string) error {
		after, err := batch.GoOn(p.ctx, j.previous.In(at), in, j.settings, host)
		if err == nil {
			in = after
		}
		return err
	})
	return in, err
}

// rejected returns errRejected if any finding rejected a record.
func rejected(findings []check.Finding) error {
	if check.Count(findings, check.Error) > 0 {
		return errRejected
	}
	return nil
}

// gather combines the results of a job's parts; nil if the job has no parts. It compares the input,
// which is read again, with what was split.
func (p *program) gather(j job, in *observed.Quarter, files []mapfile.File, shelf *spill.Shelf) (*batch.Made, error) {
	if j.results == nil {
		return nil, nil
	}
	split := &j.results.Split
	now := maker()
	now.Command, now.Parts, now.Pieces = split.Command, split.Parts, split.Pieces
	now, err := batch.Describe(in, files, j.settings, now)
	if err != nil {
		return nil, err
	}
	if in.Previous == nil { // otherwise its stands go on first
		if err := batch.Keep(in, shelf); err != nil {
			return nil, err
		}
	}
	whole, err := j.results.Gather(&now, shelf)
	if err != nil {
		return nil, err
	}
	return &batch.Made{Whole: whole, Shelf: shelf}, nil
}
