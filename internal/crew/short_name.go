package crew

import (
	"strconv"
	"strings"
)

// MostLetters is how long a name may be: units of one wide-spread kind cut what is
// sent to them after 10 characters (GPSBabel's tips, "Preventing Garmin waypoint name
// truncation"); newer ones show more.
const MostLetters = 10

// Names makes the names of places on a unit's screen: capitals, digits and dashes of
// ASCII, at most MostLetters, no two the same. A stand's id keeps what tells it from
// others, so that its name stays the same from quarter to quarter: 2026Q3-0012 is
// 26Q3-0012. The zero Names is ready.
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
		name = name[:min(len(name), MostLetters-len(tail))] + tail
	}
	n.taken[name] = true
	return name
}

// shortened is an id in capitals, digits and dashes: without its century where it
// begins with a quarter, then without dashes, then cut.
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
	if len(s) > MostLetters {
		s = strings.ReplaceAll(s, "-", "")
	}
	if s == "" {
		s = "STOP"
	}
	return s[:min(len(s), MostLetters)]
}
