package stream

import "strings"

// Barriers returns every barrier there is a word for.
func Barriers() []Barrier { return []Barrier{Dam, Reservoir, Weir, Culvert} }

// ParseBarrier reads a word of the barrier column; case does not matter, and
// blank, "none" and "no" mean that there is none.
func ParseBarrier(word string) (Barrier, bool) {
	w := strings.ToLower(strings.TrimSpace(word))
	switch w {
	case "", "none", "no":
		return NoBarrier, true
	}
	for _, b := range Barriers() {
		if w == string(b) {
			return b, true
		}
	}
	return NoBarrier, false
}
