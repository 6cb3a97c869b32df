package crew

import (
	"regexp"
	"testing"

	"pgregory.net/rapid"
)

// The names follow from the rule of Names by hand.
func TestNames(t *testing.T) {
	var n Names
	for _, tt := range []struct{ id, want string }{
		{"2026Q3-0012", "26Q3-0012"}, {"2025Q3-0012", "25Q3-0012"}, {"2026Q3-12345", "26Q3-12345"}, {"2026Q3-123456", "26Q3123456"},
		{"2026Q3-0012", "26Q3-001-2"}, {"Old Creek no. 7", "OLDCREEKNO"}, {"old creek nothing", "OLDCREEK-2"}, {"", "STOP"}, {"ñ", "STOP-2"},
	} {
		if got := n.Of(tt.id); got != tt.want {
			t.Errorf("the name of %q is %q, want %q", tt.id, got, tt.want)
		}
	}
}

// Whatever the ids, names are plain, short and of one place each.
func TestNamesAreShortAndUnique(t *testing.T) {
	plain := regexp.MustCompile(`^[A-Z0-9-]{1,10}$`)
	rapid.Check(t, func(t *rapid.T) {
		var n Names
		seen := map[string]bool{}
		for _, id := range rapid.SliceOfN(rapid.StringOfN(rapid.RuneFrom([]rune("2026Qq3-01é ")), 0, 14, -1), 0, 60).Draw(t, "ids") {
			name := n.Of(id)
			if !plain.MatchString(name) || seen[name] {
				t.Fatalf("the name of %q is %q, seen before: %v", id, name, seen[name])
			}
			seen[name] = true
		}
	})
}
