package crew

import (
	"strconv"
	"strings"
)

// mostLetters is the longest name. A common kind of GPS unit cuts names after 10 characters (GPSBabel's
// tips, "Preventing Garmin waypoint name truncation"); newer units show more.
const mostLetters = 10

// Names makes place names for the screen of a GPS unit: ASCII capitals, digits and dashes, at most
// mostLetters, no two the same. The name keeps the part of a stand's id that is unique, so that it is
// the same in every quarter: 2026Q3-0012 becomes 26Q3-0012. The zero Names is ready for use.
type Names struct{ taken map[string]bool }

// Of returns the name of an id. The same ids in the same order get the same names.
func (n *Names) Of(id string) string {
	if n.taken == nil {
		n.taken = map[string]bool{}
	}
	name := shortened(id)
	for k := 2; n.taken[name]; k++ {
		tail := "-" + strconv.Itoa(k)
		name = shortened(id)
		name = name[:min(len(name), mostLetters-len(tail))] + tail
	}
	n.taken[name] = true
	return name
}

// shortened returns an id in capitals, digits and dashes. If it begins with a quarter, the century is
// removed; if it is still too long, the dashes are removed, and then it is cut.
func shortened(id string) string {
	s := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z':
			return r - 'a' + 'A'
		case r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-':
			return r
		}
		return -1
	}, id)
	if len(s) > 6 && s[4] == 'Q' && s[6] == '-' && strings.HasPrefix(s, "20") {
		s = s[2:]
	}
	if len(s) > mostLetters {
		s = strings.ReplaceAll(s, "-", "")
	}
	if s == "" {
		s = "STOP"
	}
	return s[:min(len(s), mostLetters)]
}
