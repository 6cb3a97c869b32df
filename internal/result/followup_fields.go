package result

import (
	"driftreach/internal/field"
	"driftreach/internal/followup"
)

// daysOverdue returns by how many days visit i is overdue on the quarter's last day.
func (r *Run) daysOverdue(i int) int { return r.Visits[i].DaysOverdue(r.Quarter.End()) }

// Calls counts the stands with a day for the next visit.
type Calls struct {
	Due     int // by the end of the next quarter, the overdue ones too
	Overdue int // at the end of the quarter
	Later   int // after the next quarter
}

// VisitsDue counts the visits that have a day.
func VisitsDue(r *Run) Calls {
	var c Calls
	end := r.Quarter.Next().End()
	for i := range r.Visits {
		day := r.Visits[i].Next()
		c.Due += ones(!day.IsZero() && !day.After(end))
		c.Later += ones(day.After(end))
		c.Overdue += ones(r.daysOverdue(i) > 0)
	}
	return c
}

// FollowupTable returns the table of visits, one row for each known stand, the earliest due first. The
// next quarter's batch reads it.
func FollowupTable(run *Run) Table {
	fields := append(followupNext(), followupSeen()...)
	fields = append(fields, followupWork()...)
	return Table{
		Name: "followup", Title: "One row for each known stand, on the map now or earlier, the first due first",
		Fields: append(fields, followupPlace()...), Rows: len(run.Visits),
	}
}

func followupNext() []Field {
	of := func(r *Run, i int) *Visit { return &r.Visits[i] }
	return []Field{
		{field.StandID, "Stand", NoUnit, Text, "Identity of the stand.", "",
			func(r *Run, i int) Value { return text(of(r, i).StandID) }},
		{field.Quarter, "Quarter", NoUnit, Text, "Calendar quarter of the batch.", "",
			func(r *Run, _ int) Value { return text(r.Quarter.String()) }},
		{field.OnMap, "On the map", NoUnit, Flag, "True when it is a stand of this batch; false for a stand that was mapped before and not found since.", "",
			func(r *Run, i int) Value { return flag(of(r, i).Present) }},
		{field.Survey, "Survey", NoUnit, Text, "found, not_found (somebody looked and found nothing) or nobody_looked, this quarter.", "",
			func(r *Run, i int) Value { return text(of(r, i).Look.String()) }},
		{field.State, "State", NoUnit, Text, "to_treat: never treated. look_again: treated or dead. treat_again: treated, growing again. watch: not found, looked at every year. released: clear for the set number of years in a row; no visit is due.",
			"yearly for at least 5 years: landowner and watershed handbooks [P]",
			func(r *Run, i int) Value { return text(of(r, i).State.String()) }},
		{field.Due, "Due", NoUnit, Date, "Last day to look or treat. Regrowth is due on a day after the quarter, within the season. Blank for stands that wait for treatment and for released ones.", "interval and season assumed [A]",
			func(r *Run, i int) Value { return day(of(r, i).Due) }},
		{field.LookAgain, "Look again", NoUnit, Date, "For a stand that grows again, or was treated in part: day to look again at what was treated. It stays until somebody looks on that day or later. Blank for other stands.", "interval assumed [A]",
			func(r *Run, i int) Value { return day(of(r, i).Again) }},
		{field.Overdue, "Overdue", NoUnit, Flag, "True when the next visit was due before the last day of the quarter: due or look_again, whichever is earlier.", "",
			func(r *Run, i int) Value { return flag(r.daysOverdue(i) > 0) }},
		{field.DaysOverdue, "Days overdue", NoUnit, Count, "Days from that day to the last day of the quarter; 0 when it is not overdue.", "",
			func(r *Run, i int) Value { return count(r.daysOverdue(i)) }},
		{field.What, "What to do", NoUnit, Text, "What is to be done next, in one sentence.", "",
			func(r *Run, i int) Value { return text(of(r, i).What(r.FollowUp)) }},
		{field.Why, "Why", NoUnit, List, "What was seen or done last, and what else matters.", "",
			func(r *Run, i int) Value { return list(of(r, i).Why(r.FollowUp)) }},
		{field.TreatOrder, "Treat order", NoUnit, Count, "Place of the stand in the treatment order; blank when it is not on the map.", "upstream first [C]",
			func(r *Run, i int) Value {
				if of(r, i).Order == 0 {
					return Value{}
				}
				return count(of(r, i).Order)
			}},
	}
}

// treatedAt returns where to visit the treated part of a stand.
func treatedAt(v *Visit, axis int) Value {
	if v.Done.Cut == nil {
		return Value{}
	}
	return number(v.Done.Cut.At[axis], Degrees)
}

func followupSeen() []Field {
	of := func(r *Run, i int) *Visit { return &r.Visits[i] }
	return []Field{
		{field.ManagementStatus, "Status", NoUnit, Text, "Status of the stand when it was last found.", "",
			func(r *Run, i int) Value { return text(of(r, i).Status.String()) }},
		{field.LastSeen, "Last found", NoUnit, Date, "Last day it was found; the last day of the quarter where the date was assumed.", "",
			func(r *Run, i int) Value { return day(of(r, i).LastSeen) }},
		{field.LastVisit, "Last visit", NoUnit, Date, "Last day on which somebody looked, found or not; the last day of the quarter where no day is known.", "",
			func(r *Run, i int) Value { return day(of(r, i).LastLook) }},
		{field.ClearSince, "Clear since", NoUnit, Date, "Day of the first of the clear looks in a row; blank when there is none.", "",
			func(r *Run, i int) Value { return day(of(r, i).Clear.Since) }},
		{field.ClearLast, "Last clear look", NoUnit, Date, "Day of the last clear look that counts.", "",
			func(r *Run, i int) Value { return day(of(r, i).Clear.Last) }},
		{field.ClearLooks, "Clear looks", NoUnit, Count, "Clear looks in a row, at most one a year: a look counts when it comes four quarters or more after the last one that counted.", "our choice: the quarter is the step of a programme",
			func(r *Run, i int) Value { return count(of(r, i).Clear.Years) }},
	}
}

func followupWork() []Field {
	of := func(r *Run, i int) *followup.Work { return &r.Visits[i].Work }
	return []Field{
		{field.LastTreated, "Last treated", NoUnit, Date, "Day of the last control work in the treatments files; blank when there is none.", "",
			func(r *Run, i int) Value { return day(of(r, i).Last) }},
		{field.Treatments, "Days treated", NoUnit, Count, "Days of control work in the treatments files, over all quarters. Where stands grew into one, the days of the stand with the most.", "",
			func(r *Run, i int) Value { return count(of(r, i).Days) }},
		{field.Method, "Method", NoUnit, Text, "Method of the last control work, as it was written.", "",
			func(r *Run, i int) Value { return text(of(r, i).Method) }},
		{field.FormulationClass, "Formulation class", NoUnit, Text, "Formulation class of the last control work, as it was written.", "",
			func(r *Run, i int) Value { return text(of(r, i).FormulationClass) }},
	}
}

func followupPlace() []Field {
	of := func(r *Run, i int) *followup.Place { return &r.Visits[i].Place }
	return []Field{
		{field.EarlierIDs, "Also known as", NoUnit, List, "Other identities it had: those of stands that grew into it.", "",
			func(r *Run, i int) Value { return list(r.Visits[i].Earlier) }},
		{field.Parcel, "Parcel", NoUnit, Text, "Parcel in the stand's first record that has one; blank when none has.", "",
			func(r *Run, i int) Value { return text(of(r, i).Parcel) }},
		{field.StreamID, "Nearest stream line", NoUnit, Text, "Identity of the nearest stream line when it was last on the map.", "",
			func(r *Run, i int) Value { return text(of(r, i).StreamID) }},
		{field.WaterBody, "Stream", NoUnit, Text, "Name of that stream; blank when it has none.", "Darwin Core waterBody [P]",
			func(r *Run, i int) Value { return text(of(r, i).WaterBody) }},
		{field.RiverKm, "River km", Kilometers, Number, "Distance along the main path to the outlet; blank without streams.", "",
			func(r *Run, i int) Value { return number(of(r, i).RiverKm, Kilometers) }},
		{field.DecimalLongitude, "Longitude", Degrees, Number, "Longitude of a place inside its footprint, near the middle. Where an area was drawn as treated, the place is in the part that still waits for treatment.", "Darwin Core [P]",
			func(r *Run, i int) Value { return number(of(r, i).Position[0], Degrees) }},
		{field.DecimalLatitude, "Latitude", Degrees, Number, "Latitude of that place.", "Darwin Core [P]",
			func(r *Run, i int) Value { return number(of(r, i).Position[1], Degrees) }},
		cautionsField(func(r *Run, i int) int32 { return r.Visits[i].Stand }),
		{"look_again_longitude", "Longitude of what was treated", Degrees, Number, "Longitude of a place inside the ground to look at again, where an area was drawn as treated; blank for other stands.", "",
			func(r *Run, i int) Value { return treatedAt(&r.Visits[i], 0) }},
		{"look_again_latitude", "Latitude of what was treated", Degrees, Number, "Latitude of that place.", "",
			func(r *Run, i int) Value { return treatedAt(&r.Visits[i], 1) }},
	}
}
