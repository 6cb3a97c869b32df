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

// Begin does what GoOn does, for the first batch of a chain.
func Begin(in observed.Quarter, s settings.Settings) (observed.Quarter, error) {
	rules, err := s.Stages()
	if err != nil {
		return in, err
	}
	return restated.Apply(in, nil, nil, rules).Settle(nil, s)
}

// GoOn reads the batch that a quarter continues and adds it to the input, with the changes that
// corrections make. The error is that of earlier.Read; in is then unchanged and may be used again.
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
	// done last, so that in is unchanged if this fails
	if in, err = restated.Apply(in, p, p.Corrections, rules).Settle(p.Known, s); err != nil {
		return in, err
	}
	in.Previous = p
	in.Files = slices.Concat(in.Files, p.Files)
	in.Findings = slices.Concat(in.Findings, p.Findings)
	return in, nil
}

// KeepArea refuses to continue if the batch that f would replace is of another area than the input; see
// earlier.KeepArea.
func KeepArea(ctx context.Context, f *folder.Folder, in *observed.Quarter, h host.Host) error {
	return earlier.KeepArea(ctx, f, &earlier.Now{Records: in.Records, Centerlines: in.Centerlines}, h)
}

// now is what the previous batch is compared with.
func now(in *observed.Quarter, s settings.Settings) earlier.Now {
	return earlier.Now{
		Quarter: in.Quarter, Records: in.Records, Centerlines: in.Centerlines, Units: in.Units, Settings: s,
		Water: earlier.WaterSums{Content: in.WaterContent(), Files: earlier.SumsByRole(in.Files)},
	}
}
