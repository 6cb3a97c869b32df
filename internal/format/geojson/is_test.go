package geojson

import (
	"strings"
	"testing"

	"driftreach/internal/format"
)

// TestIs: a text is GeoJSON where it begins with an object or an array, behind white space or a record
// separator.
func TestIs(t *testing.T) {
	for text, want := range map[string]bool{"{": true, "[": true, " \r\n\t{": true, "\x1e{": true, "": false, "<": false, "a,b": false, "(": false, "]": false, "}": false, "\"": false, "7": false} {
		r := &format.Reading{Text: format.NewWindow(strings.NewReader(text))}
		if got := (Format{}).Is(r, nil); got != want {
			t.Errorf("%q is GeoJSON: %v", text, got)
		}
	}
	if (Format{}).Is(&format.Reading{}, nil) {
		t.Error("what is no text is GeoJSON")
	}
}
