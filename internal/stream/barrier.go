package stream

import "strings"

// Barriers returns every kind of barrier.
func Barriers() []Barrier { return []Barrier{Dam, Reservoir, Weir, Culvert} }

// ParseBarrier reads a word of the barrier column; case does not matter. Blank, "none" and "no"
// mean no barrier.
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
