package batch

import (
	"strings"
	"testing"
)

// TestRulesAreTold: every code occurs once, with a remedy that fits a table cell.
func TestRulesAreTold(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		if seen[r.Code] || r.Code == "" || r.Remedy == "" || strings.Contains(r.Remedy, "|") {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
	}
}
