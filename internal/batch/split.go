package batch

import (
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"io"
	"strings"

	"driftreach/geo/parallel"
	"driftreach/internal/aquatic"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/part"
	"driftreach/internal/settings"
	"driftreach/internal/spill"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// Splitter is one quarter's input, ready to be split into parts.
type Splitter struct {
	Split part.Split
	Sizes []int // by part: records

	spool  *spill.Spool // detected records, without what no part needs, each with its cell, its index and its observer's
	rules  part.Rules
	pieces []aquatic.Piece
	deal   part.Deal
}

// EachRecord calls yield with every accepted record of a quarter, sorted by id.
type EachRecord func(yield func(*survey.Record) error) error

// EachOf goes through records in memory.
func EachOf(records []survey.Record) EachRecord {
	return func(yield func(*survey.Record) error) error {
		for i := range records {
			r := records[i]
			if err := yield(&r); err != nil {
				return err
			}
		}
		return nil
	}
}

// NewSplitter divides the heavy work of a quarter among parts. p says how many, and which program made
// the split; the rest is filled in. It takes the quarter over, and frees what no part needs before it
// connects the streams. Records are kept at a place on disk, so that
// the memory needed is that of the streams and of some 28 bytes for each square of ground with finds.
func NewSplitter(in observed.Quarter, records EachRecord, files []mapfile.File, s settings.Settings, p part.Split, at spill.Place) (*Splitter, error) {
	rules, err := s.Stages()
	if err != nil {
		return nil, err
	}
	c := &Splitter{rules: part.Rules{Stands: rules.Stands, Margin: rules.Margin}, spool: spill.NewSpool(at, "finds")}
	if c.Split, err = Describe(&in, files, s, p); err != nil {
		return nil, err
	}
	lines, barriers, water := in.Centerlines, in.Barriers, in.Water
	in = observed.Quarter{} // free the rest: texts, the previous batch and so on
	groups := part.NewGroups(rules.Stands.JoinDistance)
	if err := c.keep(groups, records); err != nil {
		return nil, errors.Join(err, c.spool.Close())
	}
	records = nil
	rules.Network.Quiet = true // merge connects them again, and tells what it finds
	net, _ := stream.Connect(lines, barriers, water, rules.Network)
	pieces, of := aquatic.NewWater(net, rules.Aquatic).Pieces()
	c.pieces = pieces
	c.Split.Pieces = len(c.pieces)
	c.deal = groups.Deal(c.pieces, of, p.Parts)
	return c, nil
}

// keep writes the finds to the spool, and counts the records.
func (c *Splitter) keep(groups *part.Groups, records EachRecord) error {
	c.Split.Records, c.Split.Detected = 0, 0
	var entry []byte
	observers := map[string]int{} // by name: the first record
	return records(func(r *survey.Record) error {
		index := c.Split.Records
		c.Split.Records++
		by := r.RecordedBy()
		first, met := observers[by]
		if !met {
			first = index
			observers[strings.Clone(by)] = first
		}
		if !r.Detected {
			return nil
		}
		c.Split.Detected++
		part.Strip(r)
		entry = part.AppendEntry(binary.AppendUvarint(entry[:0], uint64(groups.Add(r))), index, first, r)
		return c.spool.Add(entry)
	})
}

// Describe completes a split with what was read: the files, the settings in use and the number of
// records.
func Describe(in *observed.Quarter, files []mapfile.File, s settings.Settings, p part.Split) (part.Split, error) {
	text, err := json.Marshal(s)
	if err != nil {
		return p, err
	}
	p.Quarter, p.Settings, p.Records = in.Quarter.String(), string(text), in.Records.Len()
	p.Inputs, p.Detected = nil, in.Records.Detected()
	for _, f := range files {
		p.Inputs = append(p.Inputs, part.Input{Role: f.Role, Name: f.Name, SHA256: f.SHA256})
	}
	return p, nil
}

// partsAtOnce is how many parts are written at once. Our choice: a writer needs a megabyte, and the
// finds are read once for so many parts.
const partsAtOnce = 40

// WritePart writes the file of one part, numbered from 1.
type WritePart func(number int, write func(io.Writer) error) error

// Write writes all parts. It goes through the finds once for every 40 parts. to may be called from several
// goroutines.
func (c *Splitter) Write(ctx context.Context, to WritePart) error {
	c.Sizes = make([]int, c.Split.Parts)
	for first := 0; first < c.Split.Parts; first += partsAtOnce {
		if err := c.writeSome(ctx, to, first, min(first+partsAtOnce, c.Split.Parts)); err != nil {
			return err
		}
	}
	return nil
}

// writeSome writes the parts from first up to last, which is not written.
func (c *Splitter) writeSome(ctx context.Context, put WritePart, first, last int) error {
	tasks, ctx := parallel.WithContext(ctx)
	to := make([]chan part.Block, last-first)
	for i := range to {
		to[i] = make(chan part.Block, 1)
		tasks.Go(func() error { return c.writeOne(put, first+i, to[i]) })
	}
	err := c.handOut(ctx, first, to)
	for _, blocks := range to {
		close(blocks)
	}
	if failed := tasks.Wait(); failed != nil {
		return failed
	}
	return err
}

// writeOne writes one part, with the records that come.
func (c *Splitter) writeOne(put WritePart, number int, blocks <-chan part.Block) error {
	one := part.Part{Rules: c.rules}
	c.deal.GivePieces(&one, number, c.pieces)
	return put(number+1, func(w io.Writer) error {
		return one.WriteBlocks(w, part.Head{Kind: part.OfPart, Number: number + 1, Split: c.Split}, func(yield func(part.Block) error) error {
			for b := range blocks {
				if err := yield(b); err != nil {
					return err
				}
			}
			return nil
		})
	})
}

// handOut goes through the finds and hands out those of the parts from first on.
func (c *Splitter) handOut(ctx context.Context, first int, to []chan part.Block) error {
	waiting := make([]part.Block, len(to))
	send := func(i int) error {
		select {
		case to[i] <- waiting[i]:
			waiting[i] = nil
			return nil
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	err := c.spool.Each(func(entry []byte) error {
		cell, n := binary.Uvarint(entry)
		number := c.deal.Part(int32(cell))
		if number < first || number >= first+len(to) {
			return nil
		}
		waiting[number-first] = waiting[number-first].Add(entry[n:])
		c.Sizes[number]++
		if len(waiting[number-first]) >= part.BlockBytes {
			return send(number - first)
		}
		return nil
	})
	for i := range waiting {
		if err == nil && len(waiting[i]) > 0 {
			err = send(i)
		}
	}
	return err
}
