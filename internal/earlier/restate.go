package earlier

import (
	"context"
	"encoding/json"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/parallel"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// restate measures the stands of the previous batch again from their records, under the present rules,
// if it was made under other rules or by another version of the program. Then keeps what that batch
// printed. The difference between Then and Known is reported as restated, so anything else that removes
// acres from the previous batch, such as a withdrawn record, belongs here too. A stand that was not
// detected keeps its acres, since its records are gone.
func (e *opened) restate(ctx context.Context, p *Batch, now stand.Settings, workers int) error {
	p.Then = make([]result.Then, len(p.Known))
	for k := range p.Known {
		p.Then[k] = thenOf(&p.Known[k])
	}
	then, told := e.standRules()
	if told && then == now {
		return nil
	}
	p.Restated = true
	return parallel.Each(ctx, len(p.Known), workers, func(k int) {
		known := &p.Known[k]
		switch {
		case known.Absent:
		case told:
			remeasure(known, p.Records, then, now)
		default:
			measured(known, stand.Build(p.Records, known.Members, now))
		}
	})
}

// thenOf returns what a batch printed for a stand.
func thenOf(known *lineage.Known) result.Then {
	then := result.Then{StreamID: known.StreamID, WaterBody: known.WaterBody}
	if !known.Absent {
		then.Infested = known.InfestedAcres()
	}
	return then
}

// remeasure changes a stand by the difference between two sets of rules, both applied to the same
// records. Rounding in the files then causes no change.
func remeasure(known *lineage.Known, records []survey.Record, then, now stand.Settings) {
	before, after := stand.Build(records, known.Members, then), stand.Build(records, known.Members, now)
	if before.Infested == after.Infested {
		after.Footprint, after.Inside = known.Footprint, orb.Point{}
	}
	after.Infested = moved(known.Infested, before.Infested, after.Infested)
	after.Canopy = min(after.Infested, moved(known.Canopy, before.Canopy, after.Canopy))
	after.Gross = max(after.Infested, moved(known.Gross, before.Gross, after.Gross))
	measured(known, after)
}

// moved returns a figure plus the difference between two measures of it.
func moved(figure, before, after geo.SquareMeters) geo.SquareMeters {
	return max(0, figure+(after-before))
}

// measured gives a known stand the figures computed from its records. Its identity and dates stay.
func measured(known *lineage.Known, again stand.Stand) {
	again.ID, again.Isolated, again.First, again.Last = known.ID, known.Isolated, known.First, known.Last
	known.Memory.Ever += again.Infested.Grains() - known.InfestedAcres()
	known.Stand = again
	known.Zone = min(known.Zone, known.Infested)
}

// standRules returns the rules by which the earlier batch mapped its stands; told is false if this
// version of the program cannot know them.
func (e *opened) standRules() (rules stand.Settings, told bool) {
	if e.otherMaker() != "" {
		return rules, false
	}
	text, err := json.Marshal(e.settings)
	if err != nil {
		return rules, false
	}
	s := settings.Default()
	if json.Unmarshal(text, &s) != nil {
		return rules, false
	}
	all, err := s.Stages()
	return all.Stands, err == nil
}
