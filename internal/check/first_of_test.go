package check

import "testing"

// TestFirstOf: all of few words, and the first of many with the number of the others.
func TestFirstOf(t *testing.T) {
	words := []string{"a", "b", "c", "d"}
	for _, c := range []struct {
		n, most int
		between string
		want    string
	}{
		{0, 2, ", ", ""}, {1, 2, ", ", "a"}, {2, 2, ", ", "a, b"}, {3, 2, ", ", "a, b and 1 more"}, {4, 2, ", ", "a, b and 2 more"},
		{2, 2, "; ", "a; b"}, {4, 1, "; ", "a; and 3 more"},
	} {
		if got := FirstOf(words[:c.n], c.most, c.between); got != c.want {
			t.Errorf("%d of %d: %q, want %q", c.most, c.n, got, c.want)
		}
	}
}
