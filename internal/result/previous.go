package result

import (
	"driftreach/internal/apportion"
	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// Previous is the batch before this one, and what became of its stands.
type Previous struct {
	Quarter survey.Quarter
	Known   []lineage.Known     // its stands and those not detected since, by id; Members are not kept
	Visits  []lineage.Visit     // by known stand: whether somebody went there this quarter
	Links   []lineage.Link      // by known id, then stand id; Stand is an index into the run's Stands
	Shares  [][]apportion.Share // by known stand: its infested acres by unit, when there are units
	Fates   []lineage.Change    // by known stand: not detected, not resurveyed, or blank for one that is linked
}

// Absent is a stand once mapped and not detected since, released from
// follow-up or not.
type Absent struct {
	lineage.Known
	Looked bool // somebody visited its place this quarter and did not find it
}

// Carried says whether nobody went to the stand this quarter, so that it stands
// with its last known acreage.
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

// before returns the infested acres that a stand's parents had in the batch
// before, in grains, and whether any of them was a stand of it.
func (r *Run) before(s *Stand) (acres int64, any bool) {
	for _, k := range s.Parents {
		if known := &r.Previous.Known[k]; !known.Absent {
			acres += known.InfestedAcres()
			any = true
		}
	}
	return acres, any
}

// recordCarried says whether the record at index i is of a stand that nobody
// went to this quarter, and from which quarter it is carried.
func (r *Run) recordCarried(i int) (survey.Quarter, bool) {
	at := r.StandOf[i]
	if at < 0 {
		return survey.Quarter{}, false
	}
	from := r.Stands[at].CarriedFrom
	return from, !from.IsZero()
}

// carriedAcres returns how many stands nobody visited, and the infested acres they
// stand with, in grains.
func (r *Run) carriedAcres() (stands int, acres int64) {
	for i := range r.Stands {
		if s := &r.Stands[i]; s.Carried() {
			stands++
			acres += s.Infested.Grains()
		}
	}
	return stands, acres
}
