// Package learn estimates, from the programme's own chain of batches, the rates that each batch
// assumed: whether the map of risk comes true, how far fragments float, whether treatment works,
// how likely a look is to find a plant, how fast stands grow. Each answer has an interval, gives
// its assumptions and the number of looks and stands it is based on, and says how many more would
// be needed where there are too few. Nothing is tuned automatically: an answer becomes a setting
// only when a user writes it into the settings.
package learn

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/parallel"
	"driftreach/internal/aquatic"
	"driftreach/internal/disk"
	"driftreach/internal/drift"
	"driftreach/internal/earlier"
	"driftreach/internal/host"
	"driftreach/internal/lineage"
	"driftreach/internal/observed"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
)

// Source is one finished batch to read.
type Source struct {
	Folder   earlier.Folder
	Quarter  survey.Quarter
	Settings settings.Settings // with which it was made
}

// Chain is the content of a chain of batches, on the streams of the last one.
type Chain struct {
	Net     *stream.Network
	Grid    *stretch.Grid
	Batches []Batch
}

// Batch is one batch of a chain.
type Batch struct {
	*earlier.Batch
	Rules  settings.Stages
	Became []earlier.Became

	members  []aquatic.Membership // by known stand; zero for an absent one
	released drift.Released
	drift    drift.Drift
	afloat   []drift.Amount    // by cell of the grid: mean amount afloat
	banks    [][2]stretch.Bank // by cell
	near     []bool            // by cell: a plant there may join a known stand
}

// Error says why a chain cannot be used.
type Error struct{ Problem, Remedy string }

// Error returns the problem.
func (e *Error) Error() string { return e.Problem }

// Hint returns what the user can do.
func (e *Error) Hint() string { return e.Remedy }

// Read reads batches, the earliest first, and follows the fragments of each down the given streams,
// with that batch's settings. Each batch is continued once, and its fragments are followed once.
func Read(ctx context.Context, d disk.Disk, sources []Source, water *observed.Quarter, workers int) (*Chain, error) {
	c := &Chain{Batches: make([]Batch, len(sources))}
	last, err := sources[len(sources)-1].Settings.Stages()
	if err != nil {
		return nil, err
	}
	c.Net, _ = stream.Connect(water.Centerlines, water.Barriers, water.Water, last.Network)
	c.Grid = stretch.NewGrid(c.Net, last.SurveyNext)
	for i, source := range sources {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		b := &c.Batches[i]
		if b.Rules, err = source.Settings.Stages(); err != nil {
			return nil, err
		}
		now := &earlier.Now{Quarter: source.Quarter.Next(), Centerlines: water.Centerlines, Settings: source.Settings}
		if b.Batch, err = earlier.Read(ctx, source.Folder, now, host.Host{Workers: workers, Disk: d}); err != nil {
			return nil, err
		}
		if b.Stretches == nil {
			return nil, &Error{
				fmt.Sprintf("%s has no record of when its streams were looked at", source.Folder.Name),
				"run the chain again with survey_next.write = \"always\" in the settings",
			}
		}
		if b.Became, err = earlier.ReadBecame(ctx, d, source.Folder, now.Quarter); err != nil {
			return nil, err
		}
		if err := c.follow(ctx, b, workers); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// follow finds where a batch's stands touch the water, in the same way as the batch did, and
// follows their fragments.
func (c *Chain) follow(ctx context.Context, b *Batch, workers int) error {
	water := aquatic.NewWater(c.Net, b.Rules.Aquatic)
	touches := make([][]aquatic.Touch, len(b.Known))
	b.members = make([]aquatic.Membership, len(b.Known))
	err := parallel.Each(ctx, len(b.Known), workers, func(k int) {
		if !b.Known[k].Absent {
			b.members[k], touches[k] = water.Judge(&b.Known[k].Stand, b.Records, b.Rules.Stands)
		}
	})
	if err != nil {
		return err
	}
	b.released = drift.Released{Stands: len(b.Known)}
	for k, of := range touches {
		for _, t := range of {
			if t.InZone || t.Bank <= b.Rules.Aquatic.Setback+b.Rules.Beyond {
				b.released.Sources = append(b.released.Sources, drift.Source{
					Stand: int32(k), Place: t.Place, Amount: b.Rules.Drift.Release(&b.Records[t.Record], b.Rules.Stands), Bank: t.Bank,
				})
			}
		}
	}
	b.drift = drift.Follow(c.Net, b.released, b.Rules.Drift, workers)
	b.afloat = c.density(b.drift.ExposureOn(c.Net, c.Grid.Pieces()))
	b.banks, _ = b.Stretches.Banks(c.Net, c.Grid)
	b.near = c.joining(b, touches)
	return nil
}

// density converts the exposure of each cell, amount times km, to the mean amount afloat.
func (c *Chain) density(exposure []drift.AmountKm) []drift.Amount {
	out := make([]drift.Amount, len(exposure))
	for i, e := range exposure {
		if km := c.Grid.Cells[i].Length.Kilometers(); km > 0 {
			out[i] = e.Per(km)
		}
	}
	return out
}

// Km returns the total length of the streams.
func (c *Chain) Km() geo.Kilometers {
	sum := geo.Meters(0)
	for i := range c.Grid.Cells {
		sum += c.Grid.Cells[i].Length
	}
	return sum.Kilometers()
}

// lookedIn says which banks of a cell were surveyed in the quarter of a batch.
func (b *Batch) lookedIn(cell int32) (banks [2]bool) {
	for side, bank := range b.banks[cell] {
		banks[side] = bank.Last.State == stretch.Looked && bank.Last.Quarter == b.Quarter
	}
	return banks
}

// find returns the index of a known stand by its id; -1 for none. Known stands are sorted by id.
func (b *Batch) find(id string) int {
	i, found := slices.BinarySearchFunc(b.Known, id, func(k lineage.Known, id string) int { return strings.Compare(k.ID, id) })
	if !found {
		return -1
	}
	return i
}

// placeOf returns the place on the water of a stand; edge -1 for none.
func (b *Batch) placeOf(k int) flow.Place {
	if !b.members[k].InZone {
		return flow.Place{Edge: -1}
	}
	return b.members[k].Place
}

// quartersTo counts the quarters from one batch to another.
func quartersTo(from, to survey.Quarter) int { return to.Ordinal() - from.Ordinal() }
