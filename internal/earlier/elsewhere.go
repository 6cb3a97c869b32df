package earlier

import (
	"driftreach/internal/settings"
)

// elsewhere says whether the stands of the batch before may lie otherwise by the
// present streams: these were others, had other names, or are made into a network or
// a zone by other settings.
func (e *opened) elsewhere(p *Batch, now *Now) bool {
	if p.Restated || e.otherFiles(now, "streams") || e.otherFiles(now, "water") || len(e.otherWater(now)) > 0 || e.otherMaker() != "" ||
		len(settings.InTables(settings.Apart(e.settings, now.Settings.AsMap()), "aquatic", "network")) > 0 {
		return true
	}
	named := make(map[string]string, len(now.Centerlines))
	for i := range now.Centerlines {
		named[now.Centerlines[i].ID] = now.Centerlines[i].Name
	}
	for k := range p.Known {
		known := &p.Known[k]
		if name, there := named[known.StreamID]; known.StreamID != "" && (!there || name != known.WaterBody) {
			return true
		}
	}
	return false
}

// reachApart returns what the reach of the batch before was made with that this one's
// is not: streams, barriers, water surfaces, settings, the version. Reach is never restated; it breaks there.
func (e *opened) reachApart(now *Now) []string {
	out := append(e.otherWater(now), settings.OfReach(settings.Apart(e.settings, now.Settings.AsMap()))...)
	if other := e.otherMaker(); other != "" {
		out = append(out, other)
	}
	return out
}
