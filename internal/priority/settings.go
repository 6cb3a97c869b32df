package priority

import (
	"fmt"
	"strings"

	"driftreach/geo"
)

// Settings are the rules of treatment.
type Settings struct {
	// HandPull is the largest infested area that may be pulled by hand, in square metres. Default
	// 10, assumed.
	HandPull geo.SquareMeters
	// Permit is the requirement, besides a label, for work at the water: one line without a
	// semicolon, since semicolons separate requirements in lists. The default is common practice in
	// our words: the jurisdiction decides which forms there are, and from what acreage or length on.
	Permit string
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings {
	return Settings{
		HandPull: 10,
		Permit:   "have the permit or approved proposal that your jurisdiction asks for before work in or at the water",
	}
}

// Validate returns an error naming the first value out of range.
func (s Settings) Validate() error {
	if !(s.HandPull >= 0) {
		return fmt.Errorf("hand pull area must be 0 m2 or more, got %g", float64(s.HandPull))
	}
	if strings.TrimSpace(s.Permit) == "" || strings.ContainsAny(s.Permit, ";\r\n") {
		return fmt.Errorf("what work at the water asks for must be one line of words without a semicolon, got %q", s.Permit)
	}
	return nil
}
