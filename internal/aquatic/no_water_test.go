package aquatic

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/stand"
)

// TestNoWater: without streams a stand has no ground near one and is on no bank.
func TestNoWater(t *testing.T) {
	w := &Water{}
	st := &stand.Stand{Center: orb.Point{10, 50}}
	if got := w.Within(st, nil, stand.DefaultSettings(), nil, 100); got != 0 {
		t.Errorf("%v m2 near no water", got)
	}
	if got := (&Banks{w: w}).Of(st, nil, stand.DefaultSettings(), nil); got != nil {
		t.Errorf("along no bank: %v", got)
	}
}

// TestSettingsThatCannotBe: each invalid setting gives an error that names it.
func TestSettingsThatCannotBe(t *testing.T) {
	for word, change := range map[string]func(*Settings){
		"setback": func(s *Settings) { s.Setback = -1 }, "width": func(s *Settings) { s.WidthByOrder = nil }, "margin": func(s *Settings) { s.Margin = -1 }, "chord": func(s *Settings) { s.Chord = 0 },
	} {
		s := DefaultSettings()
		change(&s)
		if err := s.Validate(); err == nil || !strings.Contains(err.Error(), word) {
			t.Errorf("%s: %v", word, err)
		}
	}
	if err := DefaultSettings().Validate(); err != nil {
		t.Errorf("the defaults: %v", err)
	}
}
