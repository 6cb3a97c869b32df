package intake

import (
	"errors"
	"strings"
	"testing"

	"driftreach/internal/format"
	"driftreach/internal/testkit"
)

// TestTitleAboveTheHeader: a title line is recognised, reported, and skipped by a setting; files
// that begin with their header are unchanged. By hand.
func TestTitleAboveTheHeader(t *testing.T) {
	const rows = "occurrenceID,eventDate,decimalLongitude,decimalLatitude\na,2026-07-01,-117.20001,34.10001\nb,2026-07-01,-117.20101,34.10001\n"
	for _, c := range []struct {
		name, above string
		skip        int
	}{
		{"none", "", 0}, {"a title", "Long Water, cane survey\n", 1}, {"as a spreadsheet saves it", "Cane survey,,,\n", 1},
		{"title, date and a blank line", "Cane survey\nprinted 2026-07-30\n\n", 3}, {"a blank line", "\n", 0}, {"quoted", "\"Cane survey, 2026\"\n", 1},
	} {
		text := c.above + rows
		_, _, err := ReadPoints(testkit.Source("in/points.csv", strings.NewReader(text)), testOptions())
		var unusable *format.UnusableError
		if told := errors.As(err, &unusable); told != (c.skip > 0) {
			t.Errorf("%s: %v", c.name, err)
			continue
		} else if told && !strings.Contains(unusable.Remedy, `[files."points.csv"]`) {
			t.Errorf("%s: %s", c.name, unusable.Remedy)
		}
		trial := testOptions()
		trial.Trial = true
		if p, findings, err := ReadPoints(testkit.Source("in/points.csv", strings.NewReader(text)), trial); err != nil || p.Skip != c.skip || len(p.Records) != 2 || len(findings) > 0 {
			t.Errorf("%s, on trial: %d skipped, want %d, %d records, %v, %v", c.name, p.Skip, c.skip, len(p.Records), findings, err)
		}
		o := testOptions()
		o.SkipLines = c.skip
		if p, findings, err := ReadPoints(testkit.Source("in/points.csv", strings.NewReader(text)), o); err != nil || len(p.Records) != 2 || len(findings) > 0 {
			t.Errorf("%s, skipped: %d records, %v, %v", c.name, len(p.Records), findings, err)
		}
	}
	for _, plain := range []string{"id,WKT\n1,\"POINT (1 2)\"\n2,\"POINT (1 3)\"\n", "lon,lat\n1,2,,\n3,4,,\n"} {
		if p, _, err := ReadPoints(testkit.Source("points", strings.NewReader(plain)), testOptions()); err != nil || len(p.Records) != 2 {
			t.Errorf("%q: %d records, %v", plain, len(p.Records), err)
		}
	}
}
