package intake

import (
	"strings"

	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// Blank is a column of a role as a form to be filled in has it.
type Blank struct {
	Name   string
	Day    bool     // a day
	Clock  bool     // a time of day
	Number bool     // a figure, in the unit of the column
	Words  []string // the words it takes; nil for any text
	Range  Range    // of a figure
}

// Range is what a figure may be.
type Range struct {
	Known     bool
	Low, High float64
	OpenLow   bool // low itself is not allowed
}

// Form returns the columns of a role as a form to be filled in at a place: all of them
// but those of the position, in their order, so that what comes back is read without a
// mapping.
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

// formWords are the words that columns of a few words take, whatever their role.
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
