package survey

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// TestRecordsAnswerAlike: records in memory and kept records answer every question alike. The counts are
// by hand: of ten records of two files in turn, every fourth from the first has no find.
func TestRecordsAnswerAlike(t *testing.T) {
	day := DayOf(time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC))
	undated := someRecords(10)
	dated := someRecords(10)
	dated[0].Begin, dated[0].End = day, day
	for _, c := range []struct {
		name    string
		records []Record
		dated   bool
	}{{"undated", undated, false}, {"the first dated", dated, true}, {"one, dated", dated[:1], true}} {
		for form, r := range map[string]Records{"listed": {Listed: c.records}, "kept": {Kept: keepAll(t, c.records)}} {
			n := len(c.records)
			finds, inA, inB := 7, 5, 5
			if n == 1 {
				finds, inA, inB = 0, 1, 0
			}
			if r.Len() != n || r.Detected() != finds || r.Of("a.csv") != inA || r.Of("b.csv") != inB || r.Of("c.csv") != 0 || r.Dated() != c.dated {
				t.Errorf("%s, %s: %d records, %d finds, %d, %d and %d of files, dated %v", c.name, form, r.Len(), r.Detected(), r.Of("a.csv"), r.Of("b.csv"), r.Of("c.csv"), r.Dated())
			}
			for i := range c.records {
				want := &c.records[i]
				var room Record
				numbers, glance := r.Numbers(i, &room), r.Glance(i)
				if d := cmp.Diff(*want, *r.At(i)); d != "" {
					t.Errorf("%s, %s, record %d: %s", c.name, form, i, d)
				}
				if numbers.Position != want.Position || numbers.Cover != want.Cover || numbers.Status != want.Status || glance != (Glance{want.Position, want.Uncertainty, want.Begin, want.End, want.Detected}) {
					t.Errorf("%s, %s, record %d: %+v, %+v", c.name, form, i, numbers, glance)
				}
			}
		}
	}
}
