// Package treatment puts stands in order, upstream first, and says what each
// one requires.
package treatment

import "time"

// Plan is what is to be done about one stand.
type Plan struct {
	Order        int       // 1 first; stands that reach each other share a number
	Requirements []string  // sentences, most binding first
	NextVisit    time.Time // zero when the status asks for treatment rather than a visit
	WaterUseLow  float64   // acre-feet a year
	WaterUseHigh float64
}
