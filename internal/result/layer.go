package result

import (
	"slices"
	"strings"
	"time"

	"driftreach/internal/field"
)

// Layer returns a table as a layer has it: a name and the days that the feature is of,
// which tables of rows have no need of, and first what a viewer is to show first: name,
// what it is, what to do. A table that is no layer comes back as it is. Where a table has
// a field of such a name already, that one stays. Points have their identity for a name
// and eventDate for their days, by Darwin Core.
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

// withLayerFields returns a table with what its layer has besides, at the end.
func withLayerFields(t Table) Table {
	t.Fields = append(slices.Clone(t.Fields), layerFields(t)...)
	return t
}

// layered is what is made of a table for a layer.
type layered struct {
	first []string                                   // fields, in the order in which a viewer is to show them
	name  func(r *Run, b []byte, i int) []byte       // nil where it is made of fields
	of    []string                                   // the fields it is made of; none where another field is the name
	days  func(r *Run, i int) (begin, end time.Time) // nil: the quarter's
}

// Fields that only layers have, beside their name.
const (
	beginDay = "begin"
	endDay   = "end"
)

// layers are the tables that are layers of a map, by name. Who reads a layer back finds
// its properties by name and never by their order.
var layers = map[string]layered{
	"stands": {
		first: []string{field.Name, field.StandID, field.ManagementStatus, field.FollowUp, field.NextVisit, field.TreatOrder, field.Requirements, field.InfestedAcres, field.AquaticZone, beginDay, endDay},
		name:  (*Run).AppendStandName, days: func(r *Run, i int) (time.Time, time.Time) { return r.Stands[i].First, r.Stands[i].Last },
	},
	"points":       {first: []string{field.OccurrenceID, field.StandID, field.OccurrenceStatus, field.ManagementStatus, field.EventDate}},
	"reaches":      {first: []string{field.Name, "exposure_class", "stage", "hours_afloat_fast", field.Stands, "nearest_stand_id", beginDay, endDay}, name: (*Run).AppendReachName},
	"aquatic_zone": {first: []string{field.Name, field.WaterBody, "setback_m", beginDay, endDay}, name: (*Run).AppendZoneName},
	"absent": {
		first: []string{field.Name, field.StandID, field.ManagementStatus, "absent_since", beginDay, endDay},
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

// layerFields are the fields that a table has as a layer only.
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

// joined makes a name of a row's fields.
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
