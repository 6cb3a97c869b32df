package result

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"driftreach/geo/earth"
	"driftreach/internal/field"
	"driftreach/internal/treatable"
)

// StopTable returns the table of the places that a crew may go to, one row for each stop, the first
// stop first.
func StopTable(run *Run) Table {
	stops := Stops(run)
	at := func(i int) *Visit { return &run.Visits[stops[i].Visit] }
	fields := append(stopWhat(stops, at), stopWhere(stops, at)...)
	return Table{
		Name: "crew_stops", Title: "One row for each place that a crew may go to, in the order of the visits (with --crew)",
		Fields: append(fields, stopGround(stops, at)...), Rows: len(stops),
	}
}

func stopWhat(stops []Stop, at func(int) *Visit) []Field {
	return []Field{
		{field.Stop, "Stop", NoUnit, Count, "Place in the crew's order, 1 first. With a plan: the first planned quarter, in its order. Without one: stands that ask for treatment, in treatment order. Then the visits due by the end of the next quarter, the first due first. Blank where no visit is needed now.", "",
			func(_ *Run, i int) Value {
				if stops[i].Number == 0 {
					return Value{}
				}
				return count(stops[i].Number)
			}},
		{field.GPSName, "Name on the unit", NoUnit, Text, "Name of its waypoint in crew.gpx: at most 10 capitals, digits and dashes, no two the same.", "GPS units cut names to 10 letters, GPSBabel's tips [P]",
			func(_ *Run, i int) Value { return text(stops[i].Name) }},
		{field.StandID, "Stand", NoUnit, Text, "Identity of the stand.", "",
			func(_ *Run, i int) Value { return text(at(i).StandID) }},
		{"task", "Task", NoUnit, Text, "treat, treat the rest (the other part was treated), treat block 1 of 3 (of a stand planned in blocks), treat again (growing again) or look again.", "",
			func(r *Run, i int) Value { return text(r.Task(stops[i])) }},
		{field.Due, "Due", NoUnit, Date, "Last day to look or treat; blank for stands that wait for their first treatment.", "interval and season assumed [A]",
			func(_ *Run, i int) Value { return day(at(i).Due) }},
		{field.What, "What to do", NoUnit, Text, "What is to be done next, in one sentence.", "",
			func(r *Run, i int) Value { return text(at(i).What(r.FollowUp)) }},
		{field.Why, "Why", NoUnit, List, "What was seen or done last, and what else matters; with a plan, why it is planned now.", "",
			func(r *Run, i int) Value {
				why := at(i).Why(r.FollowUp)
				if row := stops[i].Row; row != nil && row.Why != "" && !slices.Contains(why, row.Why) {
					why = append(why, row.Why)
				}
				return list(why)
			}},
		{"work_from", "Work from", NoUnit, Date, "First day of the quarter on which it may be treated, with a plan; blank without.", "",
			func(_ *Run, i int) Value {
				if row := stops[i].Row; row != nil {
					return day(row.From)
				}
				return Value{}
			}},
		{"work_to", "Work to", NoUnit, Date, "Last day on which it may be treated.", "",
			func(_ *Run, i int) Value {
				if row := stops[i].Row; row != nil {
					return day(row.To)
				}
				return Value{}
			}},
		{field.Requirements, "Requirements", NoUnit, List, "What work on the stand requires, most binding first; blank for a stand that is not on the map.", "[C]",
			func(r *Run, i int) Value {
				if s := at(i).Stand; s >= 0 {
					return list(r.Stands[s].Advice.Requirements)
				}
				return list(nil)
			}},
	}
}

// stopWhere are the fields for the position, in degrees and on the grid.
func stopWhere(stops []Stop, at func(int) *Visit) []Field {
	onGrid := func(of func(earth.UTMPlace) Value) func(*Run, int) Value {
		return func(_ *Run, i int) Value {
			u, err := earth.UTMOf(stops[i].At)
			if err != nil {
				return Value{}
			}
			return of(u)
		}
	}
	const grid = "NGA.SIG.0012, 2014 [P]"
	return []Field{
		{field.WaterBody, "Stream", NoUnit, Text, "Name of the nearest stream; blank when it has none.", "Darwin Core waterBody [P]",
			func(_ *Run, i int) Value { return text(at(i).Place.WaterBody) }},
		{field.RiverKm, "River km", Kilometers, Number, "Distance along the main path to the outlet; blank without streams.", "",
			func(_ *Run, i int) Value { return number(at(i).Place.RiverKm, Kilometers) }},
		{field.DecimalLongitude, "Longitude", Degrees, Number, "Longitude of the place to go to, inside the stand, WGS 84.", "Darwin Core [P]",
			func(_ *Run, i int) Value { return number(stops[i].At[0], Degrees) }},
		{field.DecimalLatitude, "Latitude", Degrees, Number, "Latitude of that place.", "Darwin Core [P]",
			func(_ *Run, i int) Value { return number(stops[i].At[1], Degrees) }},
		{field.UTMZone, "UTM zone", NoUnit, Text, "UTM zone and latitude band, as GPS units show them: bands before N are south of the equator. Blank beyond the grid.", grid,
			onGrid(func(u earth.UTMPlace) Value { return text(strconv.Itoa(u.Zone) + string(rune(u.Band))) })},
		{field.UTMEasting, "Easting", Meters, Number, "Easting of that place on the grid.", grid,
			onGrid(func(u earth.UTMPlace) Value { return number(u.Easting, Meters) })},
		{field.UTMNorthing, "Northing", Meters, Number, "Northing of that place, with 10,000 km added south of the equator.", grid,
			onGrid(func(u earth.UTMPlace) Value { return number(u.Northing, Meters) })},
	}
}

// stopGround are the fields for what is known about the ground and whom to ask.
func stopGround(stops []Stop, at func(int) *Visit) []Field {
	stand := func(of func(*Run, *Stand) Value) func(*Run, int) Value {
		return func(r *Run, i int) Value {
			if s := at(i).Stand; s >= 0 {
				return of(r, &r.Stands[s])
			}
			return Value{}
		}
	}
	told := func(column func(*Run) string, treatable func(*treatable.Rule) []string) func(*Run, int) Value {
		return func(r *Run, i int) Value { return list(r.told(stops[i], column(r), treatable)) }
	}
	return []Field{
		{field.InfestedAcres, "Infested area", Acres, Number, "Infested acres of the stand; blank when it is not on the map.", "",
			stand(func(r *Run, s *Stand) Value { return r.area(s.Infested) })},
		{field.AquaticZone, "In the aquatic zone", NoUnit, Flag, "True when the stand touches the aquatic zone.", "",
			stand(func(_ *Run, s *Stand) Value { return flag(s.Zone.InZone) })},
		{field.Parcel, "Parcel", NoUnit, Text, "Parcel in the stand's first record that has one; blank when none has.", "",
			func(_ *Run, i int) Value { return text(at(i).Place.Parcel) }},
		{field.Owner, "Owner", NoUnit, List, "Owner in the records, from the column set in crew.owner_column, then the owner in --treatable; blank when there is none.", "",
			told(func(r *Run) string { return r.Crew.Owner }, ownerOf)},
		{field.Permission, "Permission", NoUnit, List, "Permission in the records, from the column set in crew.permission_column, then the permission, its last day and its parcel in --treatable.", "",
			told(func(r *Run) string { return r.Crew.Permission }, permissionOf)},
		{field.Gate, "Gate", NoUnit, List, "How to get in, from the column set in crew.gate_column, then from the columns gate and access of --treatable.", "",
			told(func(r *Run) string { return r.Crew.Gate }, gateOf)},
	}
}

func ownerOf(t *treatable.Rule) []string { return []string{t.Owner} }

func gateOf(t *treatable.Rule) []string { return []string{t.Gate, t.Access} }

// permissionOf describes the permission in a row of --treatable.
func permissionOf(t *treatable.Rule) []string {
	said := string(t.Permission)
	if !t.Expires.IsZero() {
		said = strings.TrimSpace(said + " until " + t.Expires.Format(time.DateOnly))
	}
	if said != "" && t.Parcel != "" {
		said += ", parcel " + t.Parcel
	}
	return []string{said}
}
