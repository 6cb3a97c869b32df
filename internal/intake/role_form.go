package intake

import (
	"strings"

	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// Blank is a column in a form to be filled in.
type Blank struct {
	Name   string
	Day    bool     // a day
	Clock  bool     // a time of day
	Number bool     // a number, in the unit of the column
	Words  []string // allowed words; nil for any text
	Range  Range    // of a number
}

// Range is the allowed range of a number.
type Range struct {
	Known     bool
	Low, High float64
	OpenLow   bool // low itself is not allowed
}

// Form returns the columns of a role for a form that is filled in at a known place: all except those of
// the position, in their order. The completed form can be read without a mapping.
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

// formWords are the allowed words of columns with few words, in every role.
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
