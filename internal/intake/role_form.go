package intake

import (
	"strings"

	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// Blank is a column of a role in a form to be filled in.
type Blank struct {
	Name   string
	Day    bool     // a day
	Clock  bool     // a time of day
	Number bool     // a number, in the unit of the column
	Words  []string // the words it takes; nil for any text
	Range  Range    // of a number
}

// Range is what a number may be.
type Range struct {
	Known     bool
	Low, High float64
	OpenLow   bool // low itself is not allowed
}

// Form returns the columns of a role for a form to be filled in at a place: all but those of
// the position, in their order, so that the returned form is read without a mapping.
func (r Role) Form() []Blank {
	var out []Blank
	for _, f := range r.fields {
		if f.Name == pointFields[pointLon].Name || f.Name == pointFields[pointLat].Name {
			continue
		}
		b := Blank{Name: f.Name, Day: f.Dated(), Number: f.Measured() || f.AsWritten, Clock: strings.HasSuffix(f.Name, "_time"), Words: formWords[f.Name]}
		if low, high, open, ok := treatment.Bounds(f.Name); ok {
			b.Range = Range{true, low, high, open}
		}
		if f.Name == pointFields[pointCover].Name {
			b.Range = Range{Known: true, Low: 0, High: 100}
		}
		out = append(out, b)
	}
	return out
}

// formWords are the words that columns of a few words take, in every role.
var formWords = map[string][]string{
	"method":            treatment.Methods(),
	"formulation_class": treatment.FormulationClasses(),
	"occurrenceStatus":  survey.OccurrenceWords(),
	"management_status": statusWords(),
}

func statusWords() []string {
	var words []string
	for _, s := range survey.Statuses() {
		words = append(words, s.String())
	}
	return words
}
