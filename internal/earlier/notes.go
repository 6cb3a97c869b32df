package earlier

import (
	"fmt"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/folder"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/settings"
)

// notes lists what else, besides the plant, may have changed figures since the earlier batch.
func (e *opened) notes(p *Batch, now *Now) []check.Finding {
	found := e.told
	tell := func(rule check.Rule, format string, args ...any) {
		found = append(found, check.Finding{Rule: rule, File: e.shown(folder.ManifestName), Message: fmt.Sprintf(format, args...)})
	}
	if next := e.quarter.Next(); next != now.Quarter {
		missing := 0
		for q := next; q != now.Quarter; q = q.Next() {
			missing++
		}
		tell(lineage.RuleGap(), "%s between the batch before, of %s, and this one", quarters(missing), e.quarter)
	}
	if e.otherMaker() != "" {
		tell(lineage.RuleVersion(), "the batch before was made by driftreach %s in format %d, and this is %s, format %d; %s",
			e.maker.Version, e.maker.Format, e.from.Version, mapfile.Format, p.restatement())
	}
	if keys := settings.Apart(e.settings, now.Settings.AsMap()); len(keys) > 0 {
		tell(lineage.RuleSettings(), "the batch before was made with other settings: %s; %s", strings.Join(keys, ", "), p.restatement())
	}
	if other := e.otherWater(now); len(other) > 0 {
		tell(lineage.RuleStreams(), "other %s than in %s: its stands are measured with the present streams and zone, and its reach is not compared%s",
			strings.Join(other, ", "), e.quarter, OnlyByFiles(e.water, now.Water))
	}
	if e.otherUnits(p, now) {
		tell(lineage.RuleUnits(), "the unit files of %s were others: what its acres are by the present units is restated in their rows", e.quarter)
	}
	return found
}

// restatement describes the result of measuring the stands of the previous batch again.
func (p *Batch) restatement() string {
	then, now, others := int64(0), int64(0), 0
	for k := range p.Known {
		if p.Known[k].Absent {
			continue
		}
		if p.Then[k].Infested != p.Known[k].InfestedAcres() {
			others++
		}
		then, now = then+p.Then[k].Infested, now+p.Known[k].InfestedAcres()
	}
	switch {
	case others == 0:
		return "the infested acres of its stands are the same under the present ones"
	case then == now:
		return fmt.Sprintf("its infested acres are the same under the present ones in all, but not those of %d stands, and the difference counts as restated", others)
	}
	return fmt.Sprintf("its %s infested acres are %s under the present ones, and the difference counts as restated", result.InAcres(then), result.InAcres(now))
}

// otherWater returns which water inputs differ from those of the earlier batch.
func (e *opened) otherWater(now *Now) []string { return OtherWater(e.water, now.Water) }

func quarters(n int) string {
	if n == 1 {
		return "1 quarter without a batch lies"
	}
	return fmt.Sprintf("%d quarters without a batch lie", n)
}
