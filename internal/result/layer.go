package result

import (
	"slices"
	"strings"
	"time"

	"driftreach/internal/field"
)

// Layer returns a table as a map layer. A layer also has a name and the dates of each feature, which
// tables do not need, and begins with what viewers show first: name, what it is, what to do. A table
// that is not a layer is returned unchanged. If the table already has a field of the same name, that
// one is kept. Points are named by their id and dated by eventDate, as in Darwin Core.
func Layer(t Table) Table {
	how, is := layers[t.Name]
	if !is {
		return t
	}
	fields := append(layerFields(t), t.Fields...)
	place := func(f Field) int {
		if k := slices.Index(how.first, f.Name); k >= 0 {
			return k
		}
		return len(how.first)
	}
	slices.SortStableFunc(fields, func(a, b Field) int { return place(a) - place(b) })
	t.Fields = fields
	return t
}

// withLayerFields returns a table with the additional fields of its layer at the end.
func withLayerFields(t Table) Table {
	t.Fields = append(slices.Clone(t.Fields), layerFields(t)...)
	return t
}

// layered says how a table becomes a layer.
type layered struct {
	first []string                                   // fields in the order in which viewers show them
	name  func(r *Run, b []byte, i int) []byte       // nil if the name is made of fields
	of    []string                                   // the fields it is made of; none if another field is the name
	days  func(r *Run, i int) (begin, end time.Time) // dates of a feature; nil for those of the quarter
}

// Fields that only layers have, besides the name.
const (
	beginDay = "begin"
	endDay   = "end"
)

// layers are the tables that are map layers, by name. Readers of a layer must find properties by name,
// not by order.
var layers = map[string]layered{
	"stands": {
		first: []string{field.Name, field.StandID, field.ManagementStatus, field.FollowUp, field.NextVisit, field.TreatOrder, field.Requirements, field.InfestedAcres, field.AquaticZone, beginDay, endDay},
		name:  (*Run).AppendStandName, days: func(r *Run, i int) (time.Time, time.Time) { return r.Stands[i].First, r.Stands[i].Last },
	},
	"points":       {first: []string{field.OccurrenceID, field.StandID, field.OccurrenceStatus, field.ManagementStatus, field.EventDate}},
	"reaches":      {first: []string{field.Name, "exposure_class", "stage", "hours_afloat_fast", field.Stands, "nearest_stand_id", beginDay, endDay}, name: (*Run).AppendReachName},
	"aquatic_zone": {first: []string{field.Name, field.WaterBody, "setback_m", beginDay, endDay}, name: (*Run).AppendZoneName},
	"absent": {
		first: []string{field.Name, field.StandID, field.ManagementStatus, field.AbsentSince, beginDay, endDay},
		name:  (*Run).AppendAbsentName, days: func(r *Run, i int) (time.Time, time.Time) { return r.Absent[i].First, r.Absent[i].Last },
	},
	"notices": {
		first: []string{field.Name, field.WorkID, field.Kind, field.Contact, field.StandID, field.Why, beginDay, endDay},
		name:  (*Run).AppendNoticeName,
		days: func(r *Run, i int) (time.Time, time.Time) {
			w := &r.Works[r.Notices[i].Work]
			return w.Start, w.End
		},
	},
	"survey_next": {first: []string{field.Name, "survey_order", field.Listed, field.Why, field.LookedAt, beginDay, endDay}, name: (*Run).AppendStretchName},
	"stand_parts": {first: []string{field.Name, field.StandID, "part", field.TreatOrder, beginDay, endDay}, of: []string{field.StandID, "part"}},
	"looked_at": {first: []string{field.Name, field.Quarter, beginDay, endDay}, name: func(r *Run, b []byte, _ int) []byte {
		return append(append(b, "Looked at up to "...), r.Quarter.String()...)
	}},
	"network": {first: []string{field.Name, field.StreamID, field.WaterBody}, name: (*Run).appendEdgeName},
	"findings": {first: []string{field.Name, "severity", "message", "remedy"}, name: func(r *Run, b []byte, i int) []byte {
		return append(append(append(b, r.Findings[i].Rule.Code...), ", "...), r.Findings[i].Record...)
	}},
}

// layerFields returns the fields that a table has only as a layer.
func layerFields(t Table) []Field {
	how := layers[t.Name]
	var all []Field
	if how.name == nil && how.of != nil {
		how.name = joined(t, how.of)
	}
	if how.name != nil {
		all = append(all, Field{field.Name, "Name", NoUnit, Text, "Name of the feature, as maps list it; in layers only.", "",
			func(r *Run, i int) Value { return text(string(how.name(r, nil, i))) }})
	}
	if slices.Contains(how.first, beginDay) {
		days := func(r *Run, i int) (begin, end time.Time) {
			if how.days != nil {
				begin, end = how.days(r, i)
			}
			if begin.IsZero() || end.IsZero() {
				begin, end = r.Quarter.Begin(), r.Quarter.End()
			}
			return begin, end
		}
		meaning := " day of what the feature shows, for viewers with a time slider: the days on which a stand was seen, or the days of a planned work; else the days of the quarter. In layers only."
		all = append(all,
			Field{beginDay, "From", NoUnit, Date, "First" + meaning, "", func(r *Run, i int) Value { begin, _ := days(r, i); return day(begin) }},
			Field{endDay, "To", NoUnit, Date, "Last" + meaning, "", func(r *Run, i int) Value { _, end := days(r, i); return day(end) }})
	}
	return slices.DeleteFunc(all, func(f Field) bool {
		return slices.ContainsFunc(t.Fields, func(other Field) bool { return strings.EqualFold(f.Name, other.Name) })
	})
}

// joined makes a feature's name from fields of its row.
func joined(t Table, names []string) func(r *Run, b []byte, i int) []byte {
	var of []Field
	for _, name := range names {
		of = append(of, t.Fields[slices.IndexFunc(t.Fields, func(f Field) bool { return f.Name == name })])
	}
	return func(r *Run, b []byte, i int) []byte {
		for k, f := range of {
			if k > 0 {
				b = append(b, ", "...)
			}
			b = f.Value(r, i).Append(b)
		}
		return b
	}
}
