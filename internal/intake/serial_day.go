package intake

import "fmt"

// serials counts the day numbers among the dates of a file.
type serials struct {
	number           int
	field, text, day string // of the smallest, as the example
}

// count counts a date that was written as a day number.
func (s *serials) count(field, text, day string) {
	if s.number++; s.number == 1 || text < s.text { // the smallest, so that the order of records does not matter
		s.field, s.text, s.day = field, text, day
	}
}

// told returns the message about them; blank for none.
func (s *serials) told() string {
	if s.number == 0 {
		return ""
	}
	dates := "1 date is the day number"
	if s.number > 1 {
		dates = fmt.Sprintf("%d dates are the day numbers", s.number)
	}
	return fmt.Sprintf("%s of a spreadsheet; %s was read as %s", dates, s.text, s.day)
}
