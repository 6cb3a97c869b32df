package survey

import (
	"fmt"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// TestTwoCrews: a row of plants a hundred metres apart, seen by Ana and again by Bo, each time so many
// metres to the east. Positions are good to 4 m each, so that 8 m may be one plant and 9 m not; by hand.
// Two finds are no sign, nor are those of one crew, of nobody, of an absence, or farther apart than 20 m.
func TestTwoCrews(t *testing.T) {
	perLon, perLat := earth.LocalScale(0)
	row := func(by string, n int, east float64, change func(*Record)) (out []Record) {
		for i := range n {
			r := at(fmt.Sprintf("%s%d", by, i), 1+i, 10+east/perLon, float64(i)*100/perLat)
			r.Uncertainty, r.Detected, r.Notes = 4, true, Notes{RecordedBy: by}.Pack()
			if change != nil {
				change(&r)
			}
			out = append(out, r)
		}
		return out
	}
	same := func(*Record) {}
	for name, c := range map[string]struct {
		n    int
		east float64
		by   string
		how  func(*Record)
		want string
	}{
		"the same plants":   {5, 7.9, "Bo", same, "5 finds of Ana and Bo"},
		"side by side":      {5, 8.1, "Bo", same, ""},
		"two of them":       {2, 1, "Bo", same, ""},
		"one crew":          {5, 7.9, "Ana", func(r *Record) { r.ID += "x" }, ""},
		"nobody":            {5, 7.9, "Bo", func(r *Record) { r.Notes = "" }, ""},
		"not found":         {5, 7.9, "Bo", func(r *Record) { r.Detected = false }, ""},
		"far, and not sure": {5, 21, "Bo", func(r *Record) { r.Uncertainty = 90 }, ""},
		"near, not sure":    {5, 19, "Bo", func(r *Record) { r.Uncertainty = 90 }, "5 finds of Ana and Bo"},
		"two, others alone": {5, 1, "Bo", func(r *Record) {
			if r.ID > "Bo1" { // in a cell beside Ana's finds
				r.Position[0] += 20 / perLon
			}
		}, ""},
		"an outline": {5, 1, "Bo", func(r *Record) { r.Outline = orb.MultiPolygon{} }, ""},
	} {
		records := append(row("Ana", c.n, 0, nil), row(c.by, c.n, c.east, c.how)...)
		ch := newChecker(Options{Uncertainty: 5})
		b := newBeside()
		for i := range records {
			b.next(&records[i])
		}
		b.end(ch, Records{Listed: records}.At)
		told := ""
		for _, f := range ch.Findings() {
			told += f.Record + ": " + f.Message
		}
		if (told == "") != (c.want == "") || !strings.Contains(told, c.want) {
			t.Errorf("%s: %q, want %q", name, told, c.want)
		}
	}
}
