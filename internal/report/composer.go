package report

import (
	"driftreach/internal/result"
	"driftreach/internal/trend"
)

// Sources is what report.html tells beside the run's own answer.
type Sources struct {
	Version  string         // of the program
	Settings []Setting      // every setting of the batch
	History  *trend.History // the quarters up to this one, this one among them

	Programme Programme
}

// Setting is one setting as the batch used it.
type Setting struct {
	Key, Value, Unit string
	Origin           string // [P], [C] or [A]
	Meaning, Source  string
}

// composer is what the parts of the page are made from.
type composer struct {
	run     *result.Run
	from    Sources
	stands  sheet
	summary sheet
	order   sheet
	chosen  []int // rows of order: the first stands to treat
}
