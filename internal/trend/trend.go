package trend

import (
	"driftreach/internal/field"
	"driftreach/internal/survey"
)

// Trend is the verdict on one measure of one section, with the figures it is based on.
type Trend struct {
	Scope       field.RowScope
	Name        string
	UnitID      string
	Measure     Measure
	Quarters    int            // quarters with a survey
	Missing     int            // quarters without a survey from First to Last
	First, Last survey.Quarter // quarters with a survey
	Since       survey.Quarter // where comparable values begin: for reach after other files or settings, for acres after a correction of unknown share; zero for no break
	Corrected   []string       // stands in its section whose changes corrections took back
	Begin, End  int64          // the values at First and Last, in units of 10^-Decimals, on the ground known at the end
	Mapped      [2]int64       // the acreages mapped then, on the ground surveyed by then
	Seasonal    bool           // only equal seasons were compared
	Slope       float64        // units per year; 0 below two values
	Intercept   float64        // of the line with that slope, at the year 0
	Correlation float64        // of neighbouring quarters, as allowed for in the test
	Test        Test           // zero below Fewest quarters
	Tests       int            // number of tests for which Adjusted allows; 0 for the total
	Adjusted    float64        // P adjusted for that many tests
	Doubt       float64        // half of the P10 to P90 range of the change from First to Last
	DoubtKnown  bool           // the batches give it
	Direction   Direction
}

// Rules are the rules for judging a trend.
type Rules struct {
	// Correlation is the correlation of neighbouring quarters that a test allows for, 0 up to below
	// 1. Default 0.5, assumed.
	Correlation float64
}

const (
	// Fewest is the fewest quarters for a verdict. [P] exact table of Kendall's S: with 4 values the
	// smallest two-sided p is 0.083.
	Fewest = 5

	// Alpha is the p up to which there is a trend. [C]
	Alpha = 0.05

	// seasonalSpan is the number of quarters from first to last from which only equal seasons are
	// compared: five years. Our choice: from there on, a fifth of the pairs finds what all pairs
	// find (scripts/verdicts), so that no verdict is lost on the way.
	seasonalSpan = 20
)

// Direction is the direction of a series.
type Direction string
