// Package check is the vocabulary of trouble in the data: named rules and the
// findings they make. Trouble in the data is a finding, never a Go error.
package check

import "github.com/paulmach/orb"

// Severity says what a finding did to its record.
type Severity uint8

// The severities, from mild to grave.
const (
	Note    Severity = iota // nothing was changed that matters to a figure
	Warning                 // something was assumed or repaired
	Error                   // the record was rejected
)

// Rule is one kind of trouble, known by its code.
type Rule struct {
	Code     string   // kebab-case and stable, for example "position-out-of-range"
	Severity Severity // what the trouble does to the record
	Remedy   string   // what the user can do about it, one sentence
}

// Finding is one place where the data met a rule.
type Finding struct {
	Rule     Rule
	File     string     // as the user named it
	Record   string     // the record's own id where it has one, else "row 12"
	Field    string     // our name of the field; blank when the whole record is meant
	Value    string     // what was found there, as read
	Message  string     // one sentence: what is wrong and what was done
	Position *orb.Point // longitude, latitude in degrees; nil when it has none
}
