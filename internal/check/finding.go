// Package check defines findings: problems in the data, each under a named rule. A problem in the data
// is a finding, never a Go error.
package check

import "github.com/paulmach/orb"

// Severity says what a finding did to its record.
type Severity uint8

// The severities, from low to high.
const (
	Note    Severity = iota // no figure is affected
	Warning                 // something was assumed or repaired
	Error                   // the record was rejected
)

// Rule is one kind of problem, known by its code.
type Rule struct {
	Code     string   // kebab-case and stable, for example "position-out-of-range"
	Severity Severity // what happens to the record
	Remedy   string   // what the user can do about it, one sentence
}

// Finding is one problem found in the data.
type Finding struct {
	Rule     Rule
	File     string     // as the user named it
	Record   string     // the record's own id if it has one, else "row 12"
	Field    string     // our name of the field; blank if the whole record is meant
	Value    string     // the value as read
	Message  string     // one sentence: what is wrong and what was done
	Position *orb.Point // longitude, latitude in degrees; nil if there is none
}
