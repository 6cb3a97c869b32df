package intake

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/column"
	"driftreach/internal/testkit"
)

// TestWordsOfStreams: the words of barrier and flow_permanence are kept as they are written, or as the
// settings map them, for the check of the batch to understand; they are counted with what they mean.
func TestWordsOfStreams(t *testing.T) {
	feature := func(barrier, permanence string) string {
		return fmt.Sprintf(`{"type":"Feature","properties":{"stream_id":"a","barrier":%q,"flow_permanence":%q},"geometry":{"type":"LineString","coordinates":[[10,20],[10.1,20]]}}`, barrier, permanence)
	}
	text := strings.Join([]string{feature("dam", "perennial"), feature("Dam", "Trickle"), feature("wall", "ephemeral"), feature("", "")}, "\n")
	for _, mapped := range []bool{false, true} {
		o := DefaultOptions()
		want := []string{"dam perennial", "Dam Trickle", "wall ephemeral", " "}
		counts := []string{"barrier Dam 1 dam", "barrier dam 1 dam", "barrier wall 1 ", "flow_permanence Trickle 1 ", "flow_permanence ephemeral 1 ephemeral", "flow_permanence perennial 1 perennial"}
		if mapped {
			o.Mapping = column.Mapping{Values: map[string]map[string]string{"barrier": {"wall": "weir"}, "flow_permanence": {"trickle": "intermittent"}}}
			want[1], want[2] = "Dam intermittent", "weir ephemeral"
			counts[2], counts[3] = "barrier wall 1 weir", "flow_permanence Trickle 1 intermittent"
		}
		s, _, err := ReadStreams(testkit.Source("s.geojson", strings.NewReader(text)), o)
		if err != nil {
			t.Fatal(err)
		}
		var got, counted []string
		for _, l := range s.Centerlines {
			got = append(got, string(l.Barrier)+" "+string(l.Permanence))
		}
		for _, w := range s.Words {
			counted = append(counted, fmt.Sprintf("%s %s %d %s", w.Field, w.Word, w.Count, w.Meaning))
		}
		slices.Sort(counted)
		if !slices.Equal(got, want) || !slices.Equal(counted, counts) {
			t.Errorf("mapped %v: %q, counted %q", mapped, got, counted)
		}
	}
}

// TestNodesOfStreams: 0 is no node, and whole numbers of a table of floats are written as such up to
// 1e15, beyond which a float may not hold each.
func TestNodesOfStreams(t *testing.T) {
	for text, want := range map[string]string{"": "", "0": "", "0.0": "", "17": "17", "17.0": "17", "1.7e+001": "17", "1.75e+001": "1.75e+001", "9.99999999999999e+14": "999999999999999", "1.0e+15": "1.0e+15", "-1.0e+15": "-1.0e+15", "N7": "N7", "1e+3": "1e+3", "0.0e+000": ""} {
		if got := node([]byte(text)); got != want {
			t.Errorf("%q is node %q, want %q", text, got, want)
		}
	}
}
