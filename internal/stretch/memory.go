package stretch

import (
	"fmt"
	"strings"

	"driftreach/internal/survey"
)

// The marks before the quarter of a look that is not known; a known look has none.
const (
	neverMark   = "-"
	unknownMark = "?"
)

// String returns the look as the next batch reads it: the quarter, with a mark in front if it is
// not the quarter of a look but the first for which exposure counts.
func (l Look) String() string {
	return [...]string{Never: neverMark, Unknown: unknownMark, Looked: ""}[l.State] + l.Quarter.String()
}

// ParseLook reads a look written by String.
func ParseLook(text string) (Look, error) {
	l := Look{State: Looked}
	rest := text
	if after, is := strings.CutPrefix(text, neverMark); is {
		l.State, rest = Never, after
	} else if after, is := strings.CutPrefix(text, unknownMark); is {
		l.State, rest = Unknown, after
	}
	var err error
	if l.Quarter, err = survey.ParseQuarter(rest); err != nil {
		return l, fmt.Errorf("%q is no look of ours", text)
	}
	return l, nil
}
