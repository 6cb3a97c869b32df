package stream

import "strings"

// Permanence says for which part of the year a stream has water.
type Permanence string

// The permanences, in the words of the flow_permanence column.
const (
	UnknownPermanence Permanence = ""
	Perennial         Permanence = "perennial"    // all year
	Intermittent      Permanence = "intermittent" // part of the year
	Ephemeral         Permanence = "ephemeral"    // after rain
)

// ParsePermanence reads a word of the flow_permanence column; case does not matter.
func ParsePermanence(word string) (Permanence, bool) {
	switch p := Permanence(strings.ToLower(strings.TrimSpace(word))); p {
	case UnknownPermanence, Perennial, Intermittent, Ephemeral:
		return p, true
	}
	return UnknownPermanence, false
}
