package intake

import "fmt"

// countSerial counts a date that was a day number.
func (r *featureReader) countSerial(field, text string, day string) {
	if r.serials.count++; r.serials.count == 1 || text < r.serials.text { // whatever the order of records
		r.serials.field, r.serials.text, r.serials.day = field, text, day
	}
}

// serials are the day numbers among the dates of a file.
type serials struct {
	count            int
	field, text, day string // of the smallest
}

// reportSerials tells once that day numbers were read as dates.
func (r *featureReader) reportSerials() {
	if s := r.serials; s.count > 0 {
		r.ReportFile(ruleSerial, s.field, s.text, fmt.Sprintf("%d dates are the day numbers of a spreadsheet and were read so: %s, for one, as %s", s.count, s.text, s.day))
	}
}
