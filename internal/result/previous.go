package result

import "driftreach/internal/survey"

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
