package observed

import (
	"context"

	"driftreach/internal/check"
	"driftreach/internal/host"
	"driftreach/internal/intake"
	"driftreach/internal/settings"
	"driftreach/internal/spill"
	"driftreach/internal/survey"
)

// ReadKept does what Read does, but holds no more than some thousands of records in memory: they are
// sorted in temporary files at a place, and put where the quarter keeps them. The error is ErrAtOnce if
// the quarter cannot be read so, one of the disk, or the context's.
func ReadKept(ctx context.Context, in Inputs, s settings.Settings, h host.Host, at spill.Place, put survey.Put) (Quarter, error) {
	return readKept(ctx, in, s, h, at, put, usual)
}

func readKept(ctx context.Context, in Inputs, s settings.Settings, h host.Host, at spill.Place, put survey.Put, room room) (Quarter, error) {
	q, t, err := readInTurn(ctx, in, s, h, at, room, false)
	if err != nil {
		return Quarter{}, err
	}
	done := h.Listener().Stage("check points")
	defer done()
	return q, t.keep(&q, put)
}

// keep puts the records where the quarter keeps them, with what is found of them, and the totals.
func (t *InTurn) keep(q *Quarter, put survey.Put) error {
	kept := survey.NewKept(put)
	var off []int32 // rejected for where they lie
	err := t.each(func(r *survey.Record) error {
		if t.site != nil && !t.site.Accept(r) {
			off = append(off, int32(kept.Len()))
		}
		t.check.Next(r)
		return kept.Add(r)
	})
	if err != nil {
		return err
	}
	if err := kept.End(); err != nil {
		return err
	}
	found := t.check.End(kept.At)
	told := append(t.told, q.Findings, found.Findings)
	if t.site != nil {
		told = append(told, t.site.Findings())
	}
	if len(off) > 0 {
		gone := make([]bool, kept.Len())
		for _, i := range off {
			gone[i] = true
		}
		if kept, err = kept.Without(gone); err != nil {
			return err
		}
	}
	q.Records.Kept, q.Findings, q.Dated, q.ExtraColumns = kept, check.Join(told...), found.Quarters, intake.ColumnsInTurn(t.files)
	q.SetAside(found.Aside)
	return nil
}
