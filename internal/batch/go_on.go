package batch

import (
	"context"
	"slices"

	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/intake"
	"driftreach/internal/settings"
)

// Begin is GoOn for the first batch of a chain.
func Begin(in Observed, s settings.Settings) (Observed, error) {
	rules, err := s.Stages()
	if err != nil {
		return in, err
	}
	return in.corrected(nil, nil, rules).settle(nil, s), nil
}

// GoOn reads the earlier batch that a quarter goes on from and adds it to what was
// observed, with what corrections change of it. The error is that of earlier.Read; in is
// as it was then, and may be used again.
func GoOn(ctx context.Context, from earlier.Folder, in Observed, s settings.Settings, h Host) (Observed, error) {
	done := h.progress().Stage("read the batch before")
	defer done()
	rules, err := s.Stages()
	if err != nil {
		return in, err
	}
	now := in.now(s)
	p, err := earlier.Read(ctx, h.disk(), from, &now, h.workers())
	if err != nil {
		return in, err
	}
	// last, so that what was observed is as it was when this fails
	in = in.corrected(p, p.Corrections, rules).settle(p.Known, s)
	in.Previous = p
	in.Files = slices.Concat(in.Files, p.Files)
	in.Findings = slices.Concat(in.Findings, p.Findings)
	return in, nil
}

// KeepArea refuses to go on where the batch in the place of f is of another area than
// what was observed; see there.
func (in *Observed) KeepArea(ctx context.Context, f *folder.Folder, s settings.Settings, h Host) error {
	now := in.now(s)
	return earlier.KeepArea(ctx, h.disk(), f, &now, h.workers())
}

// now is what the batch before is held against.
func (in *Observed) now(s settings.Settings) earlier.Now {
	return earlier.Now{
		Quarter: in.Quarter, Records: in.Records, Centerlines: in.Centerlines, Units: in.Units, Settings: s,
		Water: earlier.WaterSums{Content: in.WaterContent(), Files: earlier.SumsByRole(in.Files)},
	}
}

// WaterContent returns the digests of what the streams, barriers and water surfaces
// say, by role.
func (in *Observed) WaterContent() map[string]string {
	content := map[string]string{}
	for _, role := range intake.Roles() {
		if role.Digest == nil {
			continue
		}
		if sum := role.Digest(in); sum != "" {
			content[role.Name] = sum
		}
	}
	return content
}
