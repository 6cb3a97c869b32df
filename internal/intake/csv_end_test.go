package intake

import (
	"strings"
	"testing"

	"driftreach/internal/testkit"
)

// TestLineEnds: the line end of the first line applies to all. A single CRLF at the end or in the
// middle of a text with lone CRs hides no rows.
func TestLineEnds(t *testing.T) {
	header, a, b := "occurrenceID,decimalLongitude,decimalLatitude,notes", "a,1,2,x", "b,3,4,\"y\nz\""
	for name, text := range map[string]string{
		"LF": header + "\n" + a + "\n" + b + "\n", "CRLF": header + "\r\n" + a + "\r\n" + b,
		"CR": header + "\r" + a + "\r" + b + "\r", "CR, at the end CRLF": header + "\r" + a + "\r" + b + "\r\n",
		"CR, in between CRLF": header + "\r" + a + "\r\n" + b + "\r", "CR, a header of two lines": "\"occurrenceID\"" + header[12:] + ",\"two\nlines\"\r" + a + ",1\r" + b + ",2",
		"CRLF, a header of two lines": header + ",\"two\rlines\"\r\n" + a + ",1\r\n" + b + ",2\r\n",
	} {
		p, findings, err := ReadPoints(testkit.Source("f", strings.NewReader(text)), testOptions())
		if err != nil || len(p.Records) != 2 || p.Records[0].ID != "a" || p.Records[1].ID != "b" {
			t.Errorf("%s: %v, %+v, %v", name, err, p.Records, findings)
		}
	}
}
