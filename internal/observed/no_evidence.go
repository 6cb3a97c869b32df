package observed

import (
	"fmt"
	"strings"

	"driftreach/internal/intake"
	"driftreach/internal/survey"
)

// NoEvidenceError says that nothing in the input is from the quarter.
type NoEvidenceError struct {
	Quarter        survey.Quarter
	Dated          []survey.Dated // number of readable records by quarter
	Read, Rejected int            // records of points
}

// Error says which records there are instead, if any.
func (e *NoEvidenceError) Error() string {
	switch {
	case e.Read == 0:
		return fmt.Sprintf("no record of %s: the points hold none at all, and no ground is given as surveyed in it", e.Quarter)
	case e.Rejected == e.Read:
		return fmt.Sprintf("no record of %s can be used: all %d were rejected%s", e.Quarter, e.Read, e.quarters("; they are of "))
	}
	return fmt.Sprintf("no record of %s: %d were read, %d of them rejected%s", e.Quarter, e.Read, e.Rejected, e.quarters("; they are of "))
}

// Hint returns what the user can do about it.
func (e *NoEvidenceError) Hint() string {
	if e.Read == 0 {
		return "where the quarter was surveyed and nothing found, name the ground with --surveyed; else give the points of the quarter"
	}
	likely, most := survey.Quarter{}, 0
	for _, d := range e.Dated {
		if !d.Quarter.IsZero() && d.Records >= most {
			likely, most = d.Quarter, d.Records
		}
	}
	see := "`driftreach check --findings FILE` lists every record"
	if likely.IsZero() || likely == e.Quarter {
		return see
	}
	return fmt.Sprintf("give the points of %s, or run these with --quarter %s; %s", e.Quarter, likely, see)
}

// quarters lists the quarters of the records, if any is known.
func (e *NoEvidenceError) quarters(before string) string {
	// the most that are listed. Our choice: two years.
	const most = 8
	dated := e.Dated
	if len(dated) == 0 {
		return ""
	}
	more := ""
	if n := len(dated) - most; n > 0 {
		dated, more = dated[n:], fmt.Sprintf("%d earlier quarters, ", n)
	}
	var words []string
	for _, d := range dated {
		name := d.Quarter.String()
		if d.Quarter.IsZero() {
			name = "no date"
		}
		words = append(words, fmt.Sprintf("%s (%d)", name, d.Records))
	}
	return before + more + strings.Join(words, ", ")
}

// Evidence returns a *NoEvidenceError if nothing in the input is from the quarter: no record counts, or
// those that do have no date while others are of an earlier quarter, so that the file belongs to that
// quarter. Surveyed ground of the quarter is evidence too: somebody looked and recorded nothing.
func (o *Quarter) Evidence() error {
	e, aside := &NoEvidenceError{Quarter: o.Quarter, Dated: o.Dated}, 0
	for i := range o.ColumnReports {
		if total := &o.Files[i]; total.Role == intake.RolePoints {
			e.Read += total.Read
			e.Rejected += total.Rejected
			aside += total.SetAside
		}
	}
	switch {
	case o.Records.Dated(), o.Records.Len() > 0 && aside == 0, e.Read == 0 && len(o.Surveyed) > 0:
		return nil
	}
	return e
}
