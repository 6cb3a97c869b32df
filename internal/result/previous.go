package result

import (
	"driftreach/internal/allocate"
	"driftreach/internal/lineage"
	"driftreach/internal/margin"
	"driftreach/internal/survey"
)

// Previous is the batch before this one, and what became of its stands.
type Previous struct {
	Quarter survey.Quarter
	Known   []lineage.Known  // its stands and those not detected since, by id, under the present rules and by the present streams
	Then    []Then           // by known stand: what that batch printed of it
	Looks   []lineage.Look   // by known stand: what of it was looked at this quarter
	Links   []lineage.Link   // by known id, then stand id; Stand is an index into the run's Stands
	Fates   []lineage.Change // by known stand: not detected, not resurveyed, partly not detected, or blank for one that is linked
	Home    []int32          // by known stand: the stand in whose rows it counts, into the run's Stands; -1 for one that is gone

	ReachApart []string // files and settings that its reach was made with and this one's is not

	// Acres are infested ones, in grains; none of a stand that was not detected then.
	Restated []int64            // by known stand, under the present rules
	Margins  []margin.Form      // by known stand, how far off those may be
	Shares   [][]allocate.Share // by known stand: those by unit, when there are units
	Was      [][]allocate.Share // by known stand that a correction changed: what was printed of it, by unit
	Printed  []UnitAcres        // by unit of the batch before what it printed, where its units were others
}

// Then is what the batch before printed of a stand, under the rules and by the streams
// of then.
type Then struct {
	Infested  int64 // grains; 0 of one that was not detected then
	StreamID  string
	WaterBody string
}

// UnitAcres is the infested acres in one reporting unit of the batch before.
type UnitAcres struct {
	Scope    Scope
	ID, Name string
	Infested int64
}

// Absent is a stand once mapped and not detected since, released from
// follow-up or not.
type Absent struct {
	lineage.Known
	Looked bool // somebody visited its place this quarter and did not find it
}

// Carried says whether nothing of the stand was found this quarter, so that it
// stands with what nobody saw of it.
func (s *Stand) Carried() bool { return !s.CarriedFrom.IsZero() }

// PreviousIDs returns the identities of the known stands that a stand goes on
// from, its own among them, by id.
func (r *Run) PreviousIDs(s *Stand) []string {
	ids := make([]string, len(s.Parents))
	for i, k := range s.Parents {
		ids[i] = r.Previous.Known[k].ID
	}
	return ids
}

// EarlierIDs returns the same with the ids that corrections say are the same stand.
func (r *Run) EarlierIDs(s *Stand) []string {
	ids := r.PreviousIDs(s)
	for _, k := range s.Parents {
		ids = append(ids, r.Previous.Known[k].Same...)
	}
	return ids
}

// before returns the infested acres that a stand's parents had in the batch
// before, in grains, and whether any of them was a stand of it.
func (r *Run) before(s *Stand) (acres int64, any bool) {
	for _, k := range s.Parents {
		if known := &r.Previous.Known[k]; !known.Absent {
			acres += r.Previous.Restated[k]
			any = true
		}
	}
	return acres, any
}

// recordCarried says whether the record at index i is one that nobody saw this
// quarter, and from which quarter it is carried.
func (r *Run) recordCarried(i int) (survey.Quarter, bool) {
	if r.CarriedFrom == nil {
		return survey.Quarter{}, false
	}
	from := r.CarriedFrom[i]
	return from, !from.IsZero()
}

// carriedAcres returns how many stands have ground that nobody saw, and its infested
// acres, in grains.
func (r *Run) carriedAcres() (stands int, acres int64) {
	for i := range r.Stands {
		if carried := r.Stands[i].Parts.Carried; carried > 0 {
			stands++
			acres += carried
		}
	}
	return stands, acres
}
