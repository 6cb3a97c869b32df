package trend

import "driftreach/internal/field"

// renamed maps the column names of summary.csv in an earlier version to the present names. They are
// accepted for one release.
var renamed = map[string]string{
	"treated_acres":                 field.TreatedStandsAcres,
	"treated_since_last_look_acres": field.TreatedStandsSinceLastLookAcres,
}

// PresentNames returns the header of a summary with present names, and the old names it replaced,
// in order. A header with both keeps both.
func PresentNames(header []string) (now, old []string) {
	had := make(map[string]bool, len(header))
	for _, name := range header {
		had[name] = true
	}
	now = make([]string, len(header))
	for i, name := range header {
		now[i] = name
		if to, was := renamed[name]; was && !had[to] {
			now[i], old = to, append(old, name)
		}
	}
	return now, old
}
