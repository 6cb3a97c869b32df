package result

import (
	"driftreach/internal/field"
	"driftreach/internal/notice"
	"driftreach/internal/work"
)

// NoticeTable returns the table of notices, one row for each planned work and stand.
func NoticeTable(run *Run) Table {
	return Table{
		Name: "notices", Title: "One row for each planned work and each stand that its people must know about",
		Fields: append(noticeWork(), noticeStand()...), Rows: len(run.Notices),
	}
}

// NoticeID returns the id of notice i, made of the ids of work and stand.
func NoticeID(r *Run, i int) string {
	n := &r.Notices[i]
	return r.Works[n.Work].ID + "/" + r.standID(n.Stand)
}

func noticeWork() []Field {
	of := func(r *Run, i int) *work.Work { return &r.Works[r.Notices[i].Work] }
	return []Field{
		{"notice_id", "Notice", NoUnit, Text, "Identity of the notice: that of the work, a slash, that of the stand.", "",
			func(r *Run, i int) Value { return text(NoticeID(r, i)) }},
		{field.WorkID, "Work", NoUnit, Text, "Identity of the work; made from file and row when it had none.", "",
			func(r *Run, i int) Value { return text(of(r, i).ID) }},
		{field.Kind, "Kind of work", NoUnit, Text, "mowing, earthwork, channel work, or the word as it was given; blank when none was.", "",
			func(r *Run, i int) Value { return text(of(r, i).Kind) }},
		{field.StartDate, "Starts", NoUnit, Date, "First day of the work; blank when it is not known.", "",
			func(r *Run, i int) Value { return day(of(r, i).Start) }},
		{field.EndDate, "Ends", NoUnit, Date, "Last day of the work; blank when it is not known.", "",
			func(r *Run, i int) Value { return day(of(r, i).End) }},
		{field.Contact, "Tell", NoUnit, Text, "Whom to tell; blank when nobody was named.", "",
			func(r *Run, i int) Value { return text(of(r, i).Contact) }},
	}
}

func noticeStand() []Field {
	of := func(r *Run, i int) *notice.Notice { return &r.Notices[i] }
	return []Field{
		{field.StandID, "Stand", NoUnit, Text, "The stand: the live one that is near, or the nearest one upstream whose fragments pass the work.", "",
			func(r *Run, i int) Value { return text(r.standID(of(r, i).Stand)) }},
		{field.DistanceM, "Distance", Meters, Number, "Shortest distance from the stand's footprint to the work; 0 where they meet.", "",
			func(r *Run, i int) Value { return number(float64(of(r, i).Distance), Meters) }},
		{field.TreatOrder, "Treat order", NoUnit, Count, "Place of the stand in the treatment order.", "upstream first [C]",
			func(r *Run, i int) Value { return count(r.Stands[of(r, i).Stand].Advice.Order) }},
		{field.Why, "Why", NoUnit, List, "near a live stand: an untreated or resprouting stand is within the notice distance. " +
			"upstream of clean water: the work touches the aquatic zone, a live stand is within that distance or a stand's fragments pass the work, and fragments from there would reach stream that no stand reaches now.",
			"notice distance and half-distances assumed [A]",
			func(r *Run, i int) Value { return list(of(r, i).Why()) }},
		{"clean_reach_km", "Clean stream within reach", Kilometers, Number, "Stream below the work that fragments from there could reach, and that no stand's fragments reach now, at the first water stage; blank when the work does not touch the aquatic zone.",
			"half-distances assumed [A]",
			func(r *Run, i int) Value {
				if !of(r, i).AtWater {
					return Value{}
				}
				return number(of(r, i).CleanKm, Kilometers)
			}},
		{field.Caution, "What to do", NoUnit, List, "What the people of the work are asked to do.", "common practice in our words [C]",
			func(r *Run, i int) Value { return list(of(r, i).Caution()) }},
	}
}
