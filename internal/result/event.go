package result

import "driftreach/internal/survey"

// Event is one event of the calendar of the batch before, as it was written.
type Event struct {
	UID      string
	Sequence int
	Lines    []string // its lines as they are folded, from BEGIN:VEVENT to END:VEVENT
}

// VisitUID names the event of a stand's visit: the same from quarter to quarter, and
// of no other programme's, since the chain's identity is in it.
func (r *Run) VisitUID(standID string) string { return standID + ".visit." + r.Chain + ".driftreach" }

// TreatedUID names the event of the look again at what was treated of a stand that was
// treated in part.
func (r *Run) TreatedUID(standID string) string {
	return standID + ".treated." + r.Chain + ".driftreach"
}

// NoVisitUID names the event that says that no visit is due after a quarter.
func (r *Run) NoVisitUID(q survey.Quarter) string {
	return "none." + q.String() + "." + r.Chain + ".driftreach"
}
