package result

import (
	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/margin"
)

// rowMargin is the acreage error of a row. resting is how many of its acres depend on default patches,
// in grains.
type rowMargin struct {
	live, infested, gross, canopy, observed margin.Form

	resting, restingCanopy int64
}

// addStand adds a stand's error, or that of a unit's share of it. parts is what the share consists of.
func (m *rowMargin) addStand(t *Stand, a allocate.Share, parts StandParts) {
	all := wholeAcres(t)
	if all.Infested == 0 {
		return
	}
	share := float64(a.Infested) / float64(all.Infested)
	if live(t.Status) {
		m.live.Add(t.Margin.Infested, share)
	}
	m.infested.Add(t.Margin.Infested, share)
	m.gross.Add(t.Margin.Gross, share)
	m.canopy.Add(t.Margin.Canopy, share)
	part := func(area geo.SquareMeters, most int64) int64 { return min(most, int64(share*float64(area.Grains()))) }
	m.resting += part(t.Margin.Resting.Infested, a.Infested)
	m.restingCanopy += part(t.Margin.Resting.Canopy, a.Canopy)
	// acres in addition to those found again have the same relative error as the whole stand
	if len(t.Parents) > 0 && !t.Carried() {
		seen := parts.Own + parts.Carried - parts.FirstLooked
		if seen == parts.FoundAgain { // no more than was lost: none of it counts as observed change
			seen = 0
		}
		m.observed.Add(t.Margin.Infested, float64(seen)/float64(all.Infested))
	}
}

// addKnown subtracts the error of a stand of the previous batch (all, or a unit's share) if any of it
// was found. Errors that both quarters share cancel.
func (m *rowMargin) addKnown(p *Previous, k int, infested int64) {
	if p.Margins != nil && p.Fates[k] == "" && p.Restated[k] > 0 {
		m.observed.Add(p.Margins[k], -float64(infested)/float64(p.Restated[k]))
	}
}

// settle makes the errors fit to be read by several at once.
func (m *rowMargin) settle() {
	for _, f := range []*margin.Form{&m.live, &m.infested, &m.gross, &m.canopy, &m.observed} {
		f.Settle()
	}
}

// add adds the errors of another row.
func (m *rowMargin) add(o *rowMargin) {
	m.live.Add(o.live, 1)
	m.infested.Add(o.infested, 1)
	m.gross.Add(o.gross, 1)
	m.canopy.Add(o.canopy, 1)
	m.observed.Add(o.observed, 1)
	m.resting += o.resting
	m.restingCanopy += o.restingCanopy
}
