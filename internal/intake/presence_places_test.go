package intake

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/testkit"
)

// TestPresenceAtAnyPlace: the column that says whether the plant was found is read wherever it stands, the
// first place included, beside columns that are given up since they hold remarks, before it and after; by
// hand. A column whose name says nothing counts while it has six words at most.
func TestPresenceAtAnyPlace(t *testing.T) {
	says := []string{"present", "absent", "present", "absent", "present", "absent", "present", "absent", "absent"}
	const want = "+-+-+-+--"
	for _, name := range []string{"Found", "Status"} {
		for _, head := range [][]string{
			{name, "occurrenceID", "decimalLongitude", "decimalLatitude", "remark"}, {"remark", name, "occurrenceID", "decimalLongitude", "decimalLatitude"},
			{"occurrenceID", "remark", "decimalLongitude", "note", name, "decimalLatitude"}, {"occurrenceID", "decimalLongitude", "decimalLatitude", "remark", "note", name},
		} {
			rows := []string{strings.Join(append(slices.Clone(head), "eventDate"), ",")}
			for i, word := range says {
				var row []string
				for _, column := range head {
					row = append(row, map[string]string{name: word, "occurrenceID": fmt.Sprint("r", i), "decimalLongitude": fmt.Sprintf("-117.2%03d1", i), "decimalLatitude": "34.10001", "remark": fmt.Sprint("remark ", i), "note": fmt.Sprint("note ", 8-i)}[column])
				}
				rows = append(rows, strings.Join(append(row, "2026-07-01"), ","))
			}
			p, findings, err := ReadPoints(testkit.Source("points", strings.NewReader(strings.Join(rows, "\n")+"\n")), testOptions())
			if err != nil || found(p) != want || codes(findings) != "presence-by-name" {
				t.Errorf("%v: %s, want %s; %s, %v", head, found(p), want, codes(findings), err)
			}
		}
	}
	// six words and blanks are heard; a seventh word is one too many, and the column is carried
	six := []string{"found", "not found", "present", "absent", "detected", "not detected"}
	for _, c := range []struct {
		words []string
		want  string
	}{{six, "+-+-+-"}, {append(slices.Clone(six), "", "absent"), "+-+-+-+-"}, {append(slices.Clone(six), "Found"), "+++++++"}} {
		p, _, err := ReadPoints(testkit.Source("points", strings.NewReader(sheet("Status", c.words...))), testOptions())
		if err != nil || found(p) != c.want {
			t.Errorf("%q: %s, want %s; %v", c.words, found(p), c.want, err)
		}
	}
}
