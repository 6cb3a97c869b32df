package settings

import "fmt"

// Error is a setting that cannot be used. It is a mistake of usage, not
// of data.
type Error struct {
	Where   string // file and line, or the flag; blank when unknown
	Problem string
	Remedy  string // nearest key, or the range
}

// Error returns the place and the problem.
func (e *Error) Error() string {
	if e.Where == "" {
		return e.Problem
	}
	return e.Where + ": " + e.Problem
}

// Hint returns what to write instead.
func (e *Error) Hint() string { return e.Remedy }

func unknownKey(where, key string, known []string) *Error {
	near := Nearest(key, known)
	remedy := "`driftreach settings` lists every key"
	if near != "" {
		remedy = fmt.Sprintf("did you mean %s? `driftreach settings` lists every key", near)
	}
	return &Error{Where: where, Problem: "unknown setting " + key, Remedy: remedy}
}

func outOfRange(where string, s Setting, found string) *Error {
	allowed := s.bounds.String()
	if s.Unit != "" {
		allowed += " (" + s.Unit + ")"
	}
	return &Error{
		Where:   where,
		Problem: fmt.Sprintf("%s cannot be %s", s.Key, found),
		Remedy:  fmt.Sprintf("%s takes %s", s.Key, allowed),
	}
}
