package earlier

import (
	"driftreach/internal/intake"
	"driftreach/internal/settings"
)

// elsewhere says whether stands of the previous batch may have another place along the present streams:
// the streams or their names were different, or the settings for the network or the zone were.
func (e *opened) elsewhere(p *Batch, now *Now) bool {
	if p.Restated || e.otherFiles(now, intake.RoleStreams) || e.otherFiles(now, intake.RoleWater) || len(e.otherWater(now)) > 0 || e.otherMaker() != "" ||
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

// reachApart returns the inputs of the reach that differ from the previous batch: streams, barriers,
// water surfaces, settings, program version. Reach is never restated; its history is interrupted here.
func (e *opened) reachApart(now *Now) []string {
	out := append(e.otherWater(now), settings.OfReach(settings.Apart(e.settings, now.Settings.AsMap()))...)
	if other := e.otherMaker(); other != "" {
		out = append(out, other)
	}
	return out
}
