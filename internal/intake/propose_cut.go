package intake

import (
	"slices"

	"driftreach/internal/survey"
)

// proposeCut returns mappings for columns whose names a Shapefile cut so that
// several fields may be meant, by what the columns hold. proposals are those made
// already.
func (r *featureReader) proposeCut(known []recognised, proposals []Proposal) []Proposal {
	var out []Proposal
	done := map[string]bool{} // fields and columns
	for _, p := range proposals {
		done[p.Field], done[p.Column] = true, true
	}
	// what is told apart by content goes first, remarks are what is left
	for _, plain := range []bool{false, true} {
		for _, d := range r.binding.doubts {
			if field := r.meant(known, d, done, plain); field != "" && !done[d.column] {
				done[field], done[d.column] = true, true
				out = append(out, Proposal{Field: field, Column: d.column})
			}
		}
	}
	return out
}

// meant returns the one field that the texts of a doubtful column fit, blank for
// none; plain asks for the fields that any text fits.
func (r *featureReader) meant(known []recognised, d doubt, done map[string]bool, plain bool) string {
	column := slices.Index(r.binding.bound, d.column)
	if column < 0 || column >= len(r.samples) || r.samples[column].filled == 0 {
		return ""
	}
	s := &r.samples[column]
	var fits []string
	for _, k := range known {
		if done[k.field] || !slices.Contains(d.fields, k.field) || (k.content == anything) != plain {
			continue
		}
		if k.field == "occurrenceStatus" && s.tellsOccurrence() {
			return k.field // no ids are words like these
		}
		if k.field != "occurrenceStatus" && (k.content == numbers && s.fitsNumbers(k.field, r.Comma) || k.content != numbers && s.fits(k.content)) {
			fits = append(fits, k.field)
		}
	}
	if len(fits) != 1 {
		return ""
	}
	return fits[0]
}

// tellsOccurrence says whether all texts say that the plant was found, or not.
func (s *sample) tellsOccurrence() bool {
	for _, text := range s.texts {
		if _, known := survey.ParseOccurrence(text); !known && ProposedWord("occurrenceStatus", text) == "" {
			return false
		}
	}
	return len(s.texts) > 0
}
