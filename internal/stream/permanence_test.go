package stream

import (
	"testing"

	"github.com/paulmach/orb"
)

// TestCheckPermanence: known words in any case are read; others are left out with a finding.
func TestCheckPermanence(t *testing.T) {
	for word, want := range map[string]Permanence{
		"": UnknownPermanence, "Perennial": Perennial, " intermittent ": Intermittent, "EPHEMERAL": Ephemeral, "sometimes": UnknownPermanence,
	} {
		l := line("a", 1, orb.Point{1, 2}, orb.Point{3, 4})
		l.Permanence = Permanence(word)
		lines, findings := Check([]Centerline{l}, Options{})
		told := told(findings)
		if lines[0].Permanence != want || (told != "") != (word == "sometimes") {
			t.Errorf("%q: %q with %q", word, lines[0].Permanence, told)
		}
	}
}
