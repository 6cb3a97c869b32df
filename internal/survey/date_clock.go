package survey

import (
	"strings"
	"time"
)

func date(year, month, day int) time.Time {
	return time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
}

// isClock says whether s is a time of day with an optional zone.
func isClock(s string) bool {
	s, _ = strings.CutSuffix(strings.ToUpper(s), "Z")
	if i := strings.LastIndexAny(s, "+-"); i >= 0 {
		if !digits(s[i+1:], 2, 14, 60) {
			return false
		}
		s = s[:i]
	}
	s = strings.TrimSpace(s)
	if i := strings.LastIndexAny(s, ".,"); i >= 0 {
		if _, ok := number(s[i+1:]); !ok {
			return false
		}
		s = s[:i]
	}
	return digits(s, 3, 24, 60)
}

// digits says whether s is one to most two-digit parts, with or without colons. The first part is at
// most firstMax, the others at most otherMax.
func digits(s string, most, firstMax, otherMax int) bool {
	s = strings.ReplaceAll(s, ":", "")
	if len(s)%2 != 0 || len(s) == 0 || len(s) > 2*most {
		return false
	}
	for limit := firstMax; s != ""; limit = otherMax {
		n, ok := number(s[:2])
		if !ok || n > limit {
			return false
		}
		s = s[2:]
	}
	return true
}
