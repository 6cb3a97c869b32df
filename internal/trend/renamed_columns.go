package trend

import "driftreach/internal/field"

// renamed are the columns of summary.csv that an earlier version wrote under another
// name, by that name. It is read for one release.
var renamed = map[string]string{
	"treated_acres":                 field.TreatedStandsAcres,
	"treated_since_last_look_acres": field.TreatedStandsSinceLastLookAcres,
}

// PresentNames returns the header of a summary with the names of this version, and
// those it had under another one, in their order. A header that has both keeps them.
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
