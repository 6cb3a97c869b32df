package intake

import (
	"fmt"
	"strings"
	"testing"

	"driftreach/internal/testkit"
)

// TestTimesInUTC: a time in UTC whose day by the sun is in another quarter is told once a file, in any
// order of records. Days on the ground by the zones of the IANA database: 1 October 2026, 04:30 UTC, is
// 30 September, 21:30 in Los Angeles (UTC-7), and 30 June, 22:00 UTC, is 1 July, 10:00 in Auckland
// (UTC+12).
func TestTimesInUTC(t *testing.T) {
	const la, auckland = "-118.2,34.0", "174.8,-36.8"
	for _, c := range []struct{ place, text, want string }{
		{la, "2026-10-01T04:30:00Z", "2026-10-01T04:30:00Z is 2026-09-30 by the sun at that place; it was read as 2026-10-01"},
		{la, "2026-10-01T043000.5+00:00", "is 2026-09-30 by the sun"},
		{la, "2026/10/01 04:30:00+00", "is 2026-09-30 by the sun"},
		{auckland, "2026-06-30T22:00:00Z", "is 2026-07-01 by the sun at that place; it was read as 2026-06-30"},
		{la, "2026-10-01T17:00:00Z", ""},      // 10:00 there
		{la, "2026-09-30T04:30:00Z", ""},      // 29 September, the same quarter
		{la, "2026-09-30T21:30:00-07:00", ""}, // with its offset
		{la, "2026-10-01T04:30:00", ""},       // by the clock of the place
		{la, "2026-10-01", ""},
		{auckland, "2026-06-30T02:00:00Z", ""}, // 14:00 there
		{"-19,65", "2026-10-01T09:00:00Z", ""},
	} {
		for _, rows := range [][]string{{"a," + c.place + "," + c.text, "b," + la + ",2026-08-01T12:00:00Z"}, {"b," + la + ",2026-08-01T12:00:00Z", "a," + c.place + "," + c.text}} {
			in := "occurrenceID,decimalLongitude,decimalLatitude,eventDate\n" + strings.Join(rows, "\n") + "\n"
			p, findings, err := ReadPoints(testkit.Source("p.csv", strings.NewReader(in)), DefaultOptions())
			if err != nil || len(p.Records) != 2 {
				t.Fatalf("%s: %v, %d records", c.text, err, len(p.Records))
			}
			told := ""
			for _, f := range findings {
				if f.Rule == ruleUTC {
					told = f.Message
				}
			}
			if (told == "") != (c.want == "") || !strings.Contains(told, c.want) {
				t.Errorf("%s at %s: %q, want %q", c.text, c.place, told, c.want)
			}
		}
	}
}

// TestTimesInUTCOfWaypoints: the example is the earliest, and all are counted; positions of a geometry
// count as those of columns do.
func TestTimesInUTCOfWaypoints(t *testing.T) {
	in := `<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1">`
	for _, hour := range []int{3, 1, 20} { // 20:00 UTC is 1 October, 13:00 in Los Angeles
		in += fmt.Sprintf(`<wpt lat="34" lon="-118.2"><time>2026-10-01T%02d:00:00Z</time><name>w%d</name></wpt>`, hour, hour)
	}
	_, findings, err := ReadPoints(testkit.Source("p.gpx", strings.NewReader(in+"</gpx>")), DefaultOptions())
	if err != nil || !strings.Contains(fmt.Sprint(findings), "2 records have times in UTC that put them in another quarter than the day on the ground: 2026-10-01T01:00:00Z is 2026-09-30") {
		t.Errorf("%v, %v", findings, err)
	}
}
