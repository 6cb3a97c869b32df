package crew

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The names follow from the rule of Names by hand.
func TestNames(t *testing.T) {
	var n Names
	for _, tt := range []struct{ id, want string }{
		{"2026Q3-0012", "26Q3-0012"}, {"2025Q3-0012", "25Q3-0012"}, {"2026Q3-12345", "26Q3-12345"}, {"2026Q3-123456", "26Q3123456"},
		{"2026Q3-0012", "26Q3-001-2"}, {"Old Creek no. 7", "OLDCREEKNO"}, {"old creek nothing", "OLDCREEK-2"}, {"", "STOP"}, {"ñ", "STOP-2"}, {"!", "STOP-3"}, {"old creek nothing", "OLDCREEK-3"}, {"a", "A"}, {"A", "A-2"}, {"á a", "A-3"},
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

// TestEveryLetterOfAName: of all characters the letters, as capitals, the digits and the dash are kept,
// the first and the last of each too, and no other; by hand.
func TestEveryLetterOfAName(t *testing.T) {
	for r := rune(0); r < 0x250; r++ {
		want := "STOP"
		switch {
		case strings.ContainsRune("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-", r):
			want = string(r)
		case strings.ContainsRune("abcdefghijklmnopqrstuvwxyz", r):
			want = string("ABCDEFGHIJKLMNOPQRSTUVWXYZ"[strings.IndexRune("abcdefghijklmnopqrstuvwxyz", r)])
		}
		if got := shortened(string(r)); got != want {
			t.Errorf("%q is %q, want %q", r, got, want)
		}
	}
	for id, want := range map[string]string{
		"2026Q3-0012": "26Q3-0012", "2026Q3-": "26Q3-", "2026Q3": "2026Q3", "1926Q3-0012": "1926Q30012", "2026q3-0012": "26Q3-0012", "2026Q3-00123": "26Q3-00123", "2026Q3-001234": "26Q3001234",
		"2026Q31-001": "2026Q31001", "reed by the ford": "REEDBYTHEF", "a-b-c-d-e-f": "ABCDEF", "ä": "STOP", "": "STOP", "123456789-1": "1234567891", "1234567-90": "1234567-90",
	} {
		if got := shortened(id); got != want {
			t.Errorf("%q is %q, want %q", id, got, want)
		}
	}
}
