package intake

import (
	"testing"

	"driftreach/internal/survey"
)

// TestInLargePages: with any spare capacity the records stay unchanged, and the capacity can be
// used.
func TestInLargePages(t *testing.T) {
	for _, c := range []struct{ begun, room int }{{0, 0}, {0, 1}, {3, 3}, {1, 40}, {1000, 50_000}} {
		records := make([]survey.Record, c.begun, c.room)
		for i := range records {
			records[i].Row = i
		}
		inLargePages(records)
		for i := c.begun; i < c.room; i++ {
			records = append(records, survey.Record{Row: i})
		}
		for i := range records {
			if records[i].Row != i || records[i].Notes != "" {
				t.Fatalf("%d of %d: %+v", i, c.room, records[i])
			}
		}
	}
}
