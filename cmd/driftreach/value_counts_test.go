package main

import (
	"strings"
	"testing"
)

func TestValueCounts(t *testing.T) {
	for given, want := range map[string]string{
		"": "", "a": "a (1)", "a b c": "", "b a b": "b (2), a (1)", "b a b a": "a (2), b (2)",
		"1 2 3 4 5 6 7 8 8": "8 (2), 1 (1), 2 (1), 3 (1), 4 (1), 5 (1), 6 (1), 7 (1)", "1 1 2 3 4 5 6 7 8 9": "",
	} {
		var c valueCounts
		for _, v := range strings.Fields(given) {
			c.add(v)
		}
		if got := c.String(); got != want {
			t.Errorf("%q: %q, want %q", given, got, want)
		}
	}
}
