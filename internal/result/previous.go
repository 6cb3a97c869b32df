package result

import (
	"driftreach/internal/allocate"
	"driftreach/internal/lineage"
	"driftreach/internal/margin"
	"driftreach/internal/survey"
)

// Previous is the previous batch, and what became of its stands.
type Previous struct {
	Quarter survey.Quarter
	Known   []lineage.Known  // its stands and those not detected since, by id, under the present rules and on the present streams
	Then    []Then           // by known stand: what the previous batch printed
	Looks   []lineage.Look   // by known stand: how much of it was surveyed this quarter
	Links   []lineage.Link   // sorted by known id, then stand id; Stand is an index into the run's Stands
	Fates   []lineage.Change // by known stand: not detected, not resurveyed, partly not detected; blank if it has a link
	Home    []int32          // by known stand: index of the stand in whose rows it counts; -1 if it is gone

	ReachApart []string // files and settings in which the reach of the two batches differs

	// Infested acres, in grains; 0 for a stand that was not detected then.
	Restated []int64            // by known stand, under the present rules
	Margins  []margin.Form      // by known stand: error of those acres
	Shares   [][]allocate.Share // by known stand: those acres by unit, if there are units
	Was      [][]allocate.Share // by known stand that a correction changed: its printed acres by unit
	Printed  []UnitAcres        // acres that the previous batch printed by unit, if its units were different
}

// Then is what the previous batch printed for a stand, under its own rules and on its own streams.
type Then struct {
	Infested  int64 // grains; 0 if it was not detected then
	StreamID  string
	WaterBody string
}

// UnitAcres is the infested acres in one reporting unit of the previous batch.
type UnitAcres struct {
	Scope    Scope
	ID, Name string
	Infested int64
}

// Absent is a stand that was once mapped and not detected since. It may be released from follow-up.
type Absent struct {
	lineage.Known
	Looked bool // its place was surveyed this quarter and it was not found
}

// Carried says whether nothing of the stand was found this quarter. It then consists only of parts that
// nobody surveyed.
func (s *Stand) Carried() bool { return !s.CarriedFrom.IsZero() }

// PreviousIDs returns the ids of the known stands that a stand continues, its own among them, sorted.
func (r *Run) PreviousIDs(s *Stand) []string {
	ids := make([]string, len(s.Parents))
	for i, k := range s.Parents {
		ids[i] = r.Previous.Known[k].ID
	}
	return ids
}

// EarlierIDs returns these ids and those that corrections declare to be the same stand.
func (r *Run) EarlierIDs(s *Stand) []string {
	ids := r.PreviousIDs(s)
	for _, k := range s.Parents {
		ids = append(ids, r.Previous.Known[k].Same...)
	}
	return ids
}

// before returns the infested acres of the stands that s continues in the previous batch, in grains,
// and whether any of them was on its map.
func (r *Run) before(s *Stand) (acres int64, any bool) {
	for _, k := range s.Parents {
		if known := &r.Previous.Known[k]; !known.Absent {
			acres += r.Previous.Restated[k]
			any = true
		}
	}
	return acres, any
}

// recordCarried says whether the record at index i is carried, and from which quarter.
func (r *Run) recordCarried(i int) (survey.Quarter, bool) {
	if r.CarriedFrom == nil {
		return survey.Quarter{}, false
	}
	from := r.CarriedFrom[i]
	return from, !from.IsZero()
}

// carriedAcres returns the number of stands with ground that nobody surveyed this quarter, and the
// infested acres on it, in grains.
func (r *Run) carriedAcres() (stands int, acres int64) {
	for i := range r.Stands {
		if carried := r.Stands[i].Parts.Carried; carried > 0 {
			stands++
			acres += carried
		}
	}
	return stands, acres
}
