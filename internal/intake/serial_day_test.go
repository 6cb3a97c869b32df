package intake

import (
	"driftreach/internal/column"

	"strings"
	"testing"
)

// TestSerialDaysInFiles: 2026-07-01 is day 46204; see TestSerialDays of the cell.
func TestSerialDaysInFiles(t *testing.T) {
	records, findings, _ := readPoints(t, "occurrenceID,lon,lat,eventDate\na,-117.20001,34.10001,46204\nb,-117.20101,34.10001,46205.5\n", testOptions())
	if codes(findings) != "date-serial" || records[1].Begin.String() != "2026-07-02" || !strings.Contains(findings[0].Message, "2 dates") {
		t.Errorf("%s, %v", codes(findings), records)
	}
	_, _, p := readPoints(t, "occurrenceID,lon,lat,SURV_DATE\na,-117.20001,34.10001,46204\nb,-117.20101,34.10001,46205\n", testOptions())
	if len(p.Proposals) != 1 || p.Proposals[0] != (column.Proposal{Field: "eventDate", Column: "SURV_DATE"}) {
		t.Errorf("%v", p.Proposals)
	}
}
