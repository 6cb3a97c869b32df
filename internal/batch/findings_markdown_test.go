package batch

import (
	"strings"
	"testing"
)

// TestRulesAreTold: every code comes once, and its row has all of it.
func TestRulesAreTold(t *testing.T) {
	seen := map[string]bool{}
	table := FindingsMarkdown()
	for _, r := range Rules() {
		if seen[r.Code] || r.Code == "" || r.Remedy == "" || strings.Contains(r.Remedy, "|") {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
		if !strings.Contains(table, "| `"+r.Code+"` | ") {
			t.Errorf("%s is not told", r.Code)
		}
	}
}
