package intake

import (
	"testing"
)

// TestTimesOfPlacemarks: the date of a placemark is that of its time stamp, or the first day of its
// time span; by hand.
func TestTimesOfPlacemarks(t *testing.T) {
	for times, want := range map[string]string{
		"<TimeStamp><when>2026-07-13T10:00:00Z</when></TimeStamp>":                 "2026-07-13",
		"<TimeSpan><begin>2026-07-01</begin><end>2026-07-09</end></TimeSpan>":      "2026-07-01",
		"<TimeStamp><when>2026-07</when></TimeStamp><TimeSpan><begin/></TimeSpan>": "2026-07-01",
	} {
		records, findings, _ := readPoints(t, `<kml><Placemark id="a">`+times+`<Point><coordinates>-117.20001,34.10001</coordinates></Point></Placemark></kml>`, testOptions())
		if len(records) != 1 || len(findings) != 0 || records[0].Begin.String() != want {
			t.Errorf("%s: %+v, %s", times, records, codes(findings))
		}
	}
}
