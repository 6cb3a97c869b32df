package treatable

import "time"

// Window returns the first and last day in a span on which a stand may be treated, given all rows
// about it, or else why it may not be treated at all, in one clause. Every permission must be given
// and not expired. The day must be in the months of a method, if any method has months, and in no
// closed season. Days in between may still be closed. Cost is days times rows.
func Window(rules []Rule, begin, end time.Time) (from, to time.Time, why string) {
	why = "closed all the time"
	for day := begin; !day.After(end); day = day.AddDate(0, 0, 1) {
		hinders := hinder(rules, day)
		if hinders != "" {
			if from.IsZero() && (day.Equal(begin) || why == "closed all the time") {
				why = hinders
			}
			continue
		}
		if from.IsZero() {
			from = day
		}
		to = day
	}
	if from.IsZero() {
		return begin, end, why
	}
	return from, to, ""
}

// hinder returns what keeps a stand from treatment on a day; blank for nothing. A permission that is
// missing comes before a season, which ends by itself.
func hinder(rules []Rule, day time.Time) string {
	for i := range rules {
		r := &rules[i]
		switch {
		case r.unclear != "":
			return "its " + r.unclear + " cannot be read" + r.of()
		case r.Permission == Refused:
			return "permission refused" + r.of()
		case r.Permission == Asked:
			return "permission asked for and not given" + r.of()
		case !r.Expires.IsZero() && day.After(r.Expires):
			return "permission expired on " + r.Expires.Format(time.DateOnly) + r.of()
		}
	}
	byMonth, open := false, false
	at := monthDay{int(day.Month()), day.Day()}
	for i := range rules {
		r := &rules[i]
		if r.closed && r.holds(at) {
			return "closed season " + r.ClosedFrom + " to " + r.ClosedTo + r.protects()
		}
		if r.months != [13]bool{} {
			byMonth, open = true, open || r.months[at.month]
		}
	}
	if byMonth && !open {
		return "out of the months of its methods"
	}
	return ""
}

// holds says whether a day is in the closed season.
func (r *Rule) holds(at monthDay) bool {
	if r.shuts.before(r.opens) {
		return !at.before(r.opens) || !r.shuts.before(at)
	}
	return !at.before(r.opens) && !r.shuts.before(at)
}

func (r *Rule) of() string {
	if r.Parcel == "" {
		return ""
	}
	return " for parcel " + r.Parcel
}

func (r *Rule) protects() string {
	if r.ClosedFor == "" {
		return ""
	}
	return " for " + r.ClosedFor
}
