package batch

import (
	"context"
	"slices"

	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/observed"
	"driftreach/internal/restated"
	"driftreach/internal/settings"
)

// Begin is GoOn for the first batch of a chain.
func Begin(in observed.Quarter, s settings.Settings) (observed.Quarter, error) {
	rules, err := s.Stages()
	if err != nil {
		return in, err
	}
	return restated.Apply(in, nil, nil, rules).Settle(nil, s), nil
}

// GoOn reads the earlier batch that a quarter continues and adds it to what was
// observed, with what corrections change of it. The error is that of earlier.Read; in is
// as it was then, and may be used again.
func GoOn(ctx context.Context, from earlier.Folder, in observed.Quarter, s settings.Settings, h host.Host) (observed.Quarter, error) {
	done := h.Listener().Stage("read the batch before")
	defer done()
	rules, err := s.Stages()
	if err != nil {
		return in, err
	}
	now := now(&in, s)
	p, err := earlier.Read(ctx, from, &now, h)
	if err != nil {
		return in, err
	}
	// last, so that what was observed is as it was when this fails
	in = restated.Apply(in, p, p.Corrections, rules).Settle(p.Known, s)
	in.Previous = p
	in.Files = slices.Concat(in.Files, p.Files)
	in.Findings = slices.Concat(in.Findings, p.Findings)
	return in, nil
}

// KeepArea refuses to go on where the batch in the place of f is of another area than
// what was observed; see there.
func KeepArea(ctx context.Context, f *folder.Folder, in *observed.Quarter, h host.Host) error {
	return earlier.KeepArea(ctx, f, &earlier.Now{Records: in.Records, Centerlines: in.Centerlines}, h)
}

// now is what the batch before is held against.
func now(in *observed.Quarter, s settings.Settings) earlier.Now {
	return earlier.Now{
		Quarter: in.Quarter, Records: in.Records, Centerlines: in.Centerlines, Units: in.Units, Settings: s,
		Water: earlier.WaterSums{Content: in.WaterContent(), Files: earlier.SumsByRole(in.Files)},
	}
}
