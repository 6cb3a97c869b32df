package result

import "driftreach/internal/survey"

// VisitUID names the calendar event of a stand's visit. The name is the same in every quarter, and
// unique to the programme since it contains the name of the chain.
func (r *Run) VisitUID(standID string) string { return standID + ".visit." + r.Chain + ".driftreach" }

// TreatedUID names the event of the visit to the treated part of a stand that was treated in part.
func (r *Run) TreatedUID(standID string) string {
	return standID + ".treated." + r.Chain + ".driftreach"
}

// NoVisitUID names the event that says that no visit is due after a quarter.
func (r *Run) NoVisitUID(q survey.Quarter) string {
	return "none." + q.String() + "." + r.Chain + ".driftreach"
}
