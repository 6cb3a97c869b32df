package report

import (
	"driftreach/internal/result"
	"driftreach/internal/trend"
)

// Sources is what report.html shows besides the run's own result.
type Sources struct {
	Version  string         // of the program
	Settings []Setting      // every setting of the batch
	History  *trend.History // the quarters up to and including this one

	Programme Programme
}

// Setting is one setting that the batch used.
type Setting struct {
	Key, Value, Unit string
	Origin           string // [P], [C] or [A]
	Meaning, Source  string
}

// composer has everything from which the page is made.
type composer struct {
	run     *result.Run
	from    Sources
	stands  sheet
	summary sheet
	order   sheet
	ever    []result.EverRow // this quarter's stages of all ever mapped
	chosen  []int            // rows of the order: the first stands to treat
}
