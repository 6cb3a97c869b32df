package treatment

import (
	"cmp"
	"math"
	"strings"
	"time"
)

// UsesProduct says whether a product, or an amount of one, was reported.
func (a *Application) UsesProduct() bool {
	return a.Product != "" || a.Registration != "" || !math.IsNaN(a.Amount)
}

// application checks what was used and when.
func (c *checker) application(a *Treatment) {
	if !math.IsNaN(a.Amount) && a.AmountUnit == "" {
		c.Report(a, ruleAmountUnit, "amount_unit", "", "the amount has no unit; it is summed apart from amounts that have one")
	}
	start, known := clockTime(a.Start)
	if !known {
		c.Report(a, ruleTime, "start_time", a.Start, "start_time is no time of day that is known; it was kept as entered")
	}
	end, ended := clockTime(a.End)
	if !ended {
		c.Report(a, ruleTime, "end_time", a.End, "end_time is no time of day that is known; it was kept as entered")
	}
	if start >= 0 && end >= 0 && end < start {
		c.Report(a, ruleTimes, "end_time", a.End, "end_time is before start_time; both were kept as they stand")
	}
	if a.Photos != "" && !strings.ContainsAny(a.Photos, "0123456789") {
		c.Report(a, rulePhotos, "photo_numbers", a.Photos, "photo_numbers has no number in it; it was kept as entered")
	}
}

// clockForms are the forms in which people write times of day, alone or after a day.
var clockForms = []string{"15:04", "15:04:05", "3:04 PM", "3:04PM", "3:04:05 PM", "1504", "3 PM", "3PM", "15h04", "15.04"}

// clockTime returns the time of day written in text, -1 for a blank one; false for an unknown form.
func clockTime(text string) (time.Duration, bool) {
	s := strings.ToUpper(strings.TrimSpace(text))
	if s == "" {
		return -1, true
	}
	if at, err := time.Parse(time.RFC3339, s); err == nil {
		return sinceMidnight(at), true
	}
	if len(s) > len("2006-01-02") && s[4] == '-' && s[7] == '-' { // a day in front of it
		s = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(s[len("2006-01-02"):]), "T"))
	}
	s = strings.NewReplacer("A.M.", "AM", "P.M.", "PM", "H", "h").Replace(s)
	for _, form := range clockForms {
		if at, err := time.Parse(form, s); err == nil {
			return sinceMidnight(at), true
		}
	}
	return -1, false
}

func sinceMidnight(at time.Time) time.Duration {
	return time.Duration(at.Hour())*time.Hour + time.Duration(at.Minute())*time.Minute + time.Duration(at.Second())*time.Second
}

// compareApplication orders applications by all their values.
func compareApplication(a, b *Application) int {
	return cmp.Or(
		strings.Compare(a.Product, b.Product), strings.Compare(a.Registration, b.Registration), cmp.Compare(a.Amount, b.Amount),
		strings.Compare(a.AmountUnit, b.AmountUnit), strings.Compare(a.Applicator, b.Applicator), strings.Compare(a.Licence, b.Licence),
		strings.Compare(a.Start, b.Start), strings.Compare(a.End, b.End),
		cmp.Compare(a.Wind, b.Wind), cmp.Compare(a.Temperature, b.Temperature), cmp.Compare(a.Hours, b.Hours),
		strings.Compare(a.Photos, b.Photos),
	)
}
