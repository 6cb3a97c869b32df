package result

import (
	"slices"
	"strings"

	"driftreach/internal/treatment"
)

// TreatmentSum is the control work of the quarter in one row of the summary. Acres are in grains,
// rounded as printed, so that they add up exactly: ByMethod and ByClass each to Acres, streams to the
// total, and units to the total.
type TreatmentSum struct {
	Treatments, NoAcres int // NoAcres of the Treatments have no recorded acres
	Acres               int64
	ByMethod            [len(treatment.ByMethod)]int64
	ByClass             [len(treatment.ByClass)]int64
}

// wordAt returns the index of a word in words. A blank word has the last index, and a word that is not
// in the list the one before it.
func wordAt(words []treatment.Split, word string) int {
	last := len(words) - 1
	if strings.TrimSpace(word) == "" {
		return last
	}
	if k := slices.IndexFunc(words[:last-1], func(w treatment.Split) bool { return w.Word == word }); k >= 0 {
		return k
	}
	return last - 1
}

// addAcres adds acres of a treatment.
func (s *TreatmentSum) addAcres(j *Treatment, acres int64) {
	s.Acres += acres
	s.ByMethod[wordAt(treatment.ByMethod[:], j.Method)] += acres
	s.ByClass[wordAt(treatment.ByClass[:], j.FormulationClass)] += acres
}

// addTreatment counts a treatment.
func (s *TreatmentSum) addTreatment(j *Treatment) {
	s.Treatments++
	s.NoAcres += ones(!j.AcresTold())
}

// add adds the figures of another row.
func (s *TreatmentSum) add(o *TreatmentSum) {
	s.Treatments += o.Treatments
	s.NoAcres += o.NoAcres
	s.Acres += o.Acres
	for k := range s.ByMethod {
		s.ByMethod[k] += o.ByMethod[k]
	}
	for k := range s.ByClass {
		s.ByClass[k] += o.ByClass[k]
	}
}

// AcresTold says whether the acres of the work were recorded.
func (j *Treatment) AcresTold() bool { return j.TreatedAcres > 0 }
