package trend

import (
	"math"
	"slices"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/treatment"
)

// Measure is one figure of a batch, identified by its column in summary.csv.
type Measure int

// The measures for which a trend is reported, in printing order: the levels.
const (
	Live Measure = iota
	Infested
	Gross
	Canopy
	Zone
	Treated
	StandingDead
	ReachAtRisk
	levels int = iota
)

// The parts of change, blank in the first batch of a chain. They have no trend: they are the steps
// between the levels of two quarters, which the trend of infested acres already sums up. A rank
// test of the steps would test their size, not what the plant does. Carried acres show what the
// survey did, not the plant.
const (
	Previous Measure = iota + Measure(levels)
	Restated
	Observed
	New
	FoundAgain
	FirstLookedAt
	NotDetected
	Cleared
	Carried
	endOfParts
)

// The changes between a place's last two looks, one for each acreage, blank in the first batch of a
// chain. A trend chains them.
const (
	firstStep   = endOfParts
	endOfSteps  = firstStep + Measure(acreages)
	acreages    = int(ReachAtRisk) // measures in acres
	firstBand   = endOfSteps
	firstWork   = firstBand + Measure(2*banded)
	measures    = int(firstWork) + workColumns
	banded      = int(Canopy) + 1 // measures with their own uncertainty
	relativeTo  = Infested        // the measure whose relative uncertainty other acreages take
	endOfFields = Measure(measures)
)

// WorkDone is the acreage treated by control work in the quarter, blank where no work was
// requested; acres by method and by formulation class follow it. They have no trend: they show what
// the programme does, not the plant.
const (
	WorkDone    = firstWork
	workColumns = 1 + len(treatment.ByMethod) + len(treatment.ByClass)
)

// Measures returns every measure for which a trend is reported, in order.
func Measures() []Measure { return from(0, Measure(levels)) }

// Parts returns the parts of change, in order.
func Parts() []Measure { return from(Measure(levels), endOfParts) }

// Work returns treated acres: in total, by method and by class, in order.
func Work() []Measure { return from(firstWork, endOfFields) }

func from(first, end Measure) []Measure {
	var all []Measure
	for m := first; m < end; m++ {
		all = append(all, m)
	}
	return all
}

// columns are the measures' names in summary.csv and in the outputs.
var columns = withWork([measures]string{
	field.LiveAcres, field.InfestedAcres, field.GrossAcres, field.CanopyAcres, field.ZoneAcres, field.TreatedStandsAcres, field.StandingDeadAcres, field.ReachAtRiskKm,
	field.PreviousAcres, field.RestatedAcres, field.ObservedChangeAcres, field.NewAcres, field.FoundAgainAcres, field.FirstLookedAtAcres, field.NotDetectedAcres, field.ClearedAcres, field.CarriedAcres,
	"live_since_last_look_acres", field.InfestedSinceLastLookAcres, field.GrossSinceLastLookAcres, field.CanopySinceLastLookAcres, field.ZoneSinceLastLookAcres,
	field.TreatedStandsSinceLastLookAcres, field.StandingDeadSinceLastLookAcres,
	field.LiveAcresP10, field.LiveAcresP90, field.InfestedAcresP10, field.InfestedAcresP90, field.GrossAcresP10, field.GrossAcresP90, field.CanopyAcresP10, field.CanopyAcresP90,
})

// withWork appends the columns of treated acres to the others.
func withWork(names [measures]string) [measures]string {
	at := int(firstWork)
	names[at] = treatment.Prefix + "acres"
	for _, split := range slices.Concat(treatment.ByMethod[:], treatment.ByClass[:]) {
		at++
		names[at] = split.Acres()
	}
	return names
}

// Column returns the measure's name in files.
func (m Measure) Column() string { return columns[m] }

// Label returns the measure's name for readers.
func (m Measure) Label() string {
	if m >= firstWork {
		name := strings.TrimSuffix(strings.TrimPrefix(columns[m], treatment.Prefix), "_acres")
		return strings.TrimSuffix("acres treated, "+strings.ReplaceAll(name, "_", " "), ", acres")
	}
	return [endOfParts]string{"live", "infested", "gross", "canopy", "in the zone", "treated stands", "standing dead", "stream at risk",
		"the batch before", "restated", "observed change", "new", "found again", "first looked at", "not detected", "cleared", "carried"}[m]
}

// Unit returns the unit of the measure's values: acres or km.
func (m Measure) Unit() string {
	if m == ReachAtRisk {
		return "km"
	}
	return "acres"
}

// Chained says whether a trend chains the changes of a level: true for acreages.
func (m Measure) Chained() bool { return int(m) < acreages }

// Step is the column with a level's change since the last look.
func (m Measure) Step() Measure { return firstStep + m }

// isLevel says whether a trend is reported for the measure.
func (m Measure) isLevel() bool { return int(m) < levels }

// signed says whether the measure may be below 0.
func (m Measure) signed() bool {
	return m == Observed || m == Restated || m >= firstStep && m < endOfSteps
}

// mayLack says whether the column may be missing. Batches of earlier versions have no looks, no
// uncertainty, no live acres (Figures.live), and no parts of change for restated, found again and
// first looked at.
func (m Measure) mayLack() bool {
	return m >= firstStep || m == Live || m == Restated || m == FoundAgain || m == FirstLookedAt
}

// Decimals is the number of decimals of all stored figures: the most that a batch of small stands
// prints for acres. PerUnit of them make one unit.
const (
	Decimals = 8
	PerUnit  = 1e8
)

// Blank means that a batch does not have a figure.
const Blank int64 = math.MinInt64

// Figures are one section's figures in one batch, by measure, in units of 10^-Decimals.
type Figures [measures]int64

// unseen returns the figures of a section without acres that nobody surveyed: its reach comes from
// elsewhere.
func (f Figures) unseen() *Figures {
	for m := range acreages {
		f[m] = Blank
	}
	return &f
}

// workAlone returns the figures of a section that has only work: all others are blank.
func (f Figures) workAlone() *Figures {
	for m := range firstWork {
		f[m] = Blank
	}
	return &f
}

// mostRead is the largest figure accepted: the largest that a float64 holds exactly.
const mostRead = 1<<53 - 1

// live fills in live acres and their change where a batch of an earlier version lacks them: the
// acres neither treated nor standing dead.
func (f *Figures) live() {
	for _, m := range []Measure{0, firstStep} {
		if f[m+Live] == Blank && f[m+Infested] != Blank && f[m+Treated] != Blank && f[m+StandingDead] != Blank {
			f[m+Live] = max(-mostRead, min(mostRead, f[m+Infested]-f[m+Treated]-f[m+StandingDead]))
		}
	}
	if f[Live] != Blank {
		f[Live] = max(0, f[Live])
	}
}

// value returns one figure in its unit.
func (f *Figures) value(m Measure) float64 { return float64(f[m]) / PerUnit }

// Part returns a part of change in its unit; ok is false where it is blank.
func (f *Figures) Part(m Measure) (value float64, ok bool) {
	if f[m] == Blank {
		return 0, false
	}
	return f.value(m), true
}

// HasRange says whether batches give P10 and P90 of the measure itself.
func (m Measure) HasRange() bool { return int(m) < banded }

// Band returns the P10 and P90 of a level in its unit; ok is false where the batch has none.
// Acreages without their own band take that of infested acres, in proportion.
func (f *Figures) Band(m Measure) (p10, p90 float64, ok bool) {
	if !m.Chained() {
		return 0, 0, false
	}
	of, share := m, 1.0
	if int(m) >= banded {
		if f[relativeTo] <= 0 {
			return 0, 0, false
		}
		of, share = relativeTo, f.value(m)/f.value(relativeTo)
	}
	low := firstBand + 2*of
	if f[low] == Blank || f[low+1] == Blank {
		return 0, 0, false
	}
	return share * f.value(low), share * f.value(low+1), true
}
