package crew

import (
	"strings"
	"testing"
)

// Without settings a sheet has room for sixty stops, the details of a stand come from columns with plain
// names, and what only a programme can say is blank.
func TestDefaultSettings(t *testing.T) {
	if got, want := DefaultSettings(), (Settings{Owner: "owner", Permission: "permission", Gate: "gate", MostStops: 60}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// The sentences of a sheet are whole, plain and without a number: none states a limit of any rule.
func TestSentences(t *testing.T) {
	for _, s := range []string{StopWind, StopWater, Clean, Dry, Stay, Place} {
		if !strings.HasSuffix(s, ".") || strings.ContainsAny(s, "0123456789%") || strings.Contains(s, "  ") {
			t.Errorf("%q", s)
		}
	}
}
