package mapfile

import (
	"strconv"

	"driftreach/internal/field"
	"driftreach/internal/result"
)

// The fields of a stand with which its balloon begins, or which it shows under a heading of their own.
// The other fields of the row follow at the end.
var (
	standTold = fieldSet(field.StandID, field.TreatOrder, field.ManagementStatus, field.Requirements, field.NextVisit, field.FollowUp,
		field.WaterBody, field.RiverKm, field.Assumed)
	standSizes = fieldSet(field.InfestedAcres, field.InfestedAcresP10, field.InfestedAcresP90, field.GrossAcres, field.CanopyAcres, field.CanopyCoverPercent,
		field.ZoneAcres, field.AquaticZone, field.CarriedAcres)
	standReach = fieldSet(field.ReachKm, field.ReachKmP10, field.ReachKmP90, field.ReachAloneKm, field.FloodReachKm, field.Exposure)
	// in a large map
	standShort = fieldSet(field.InfestedAcres, field.InfestedAcresP10, field.InfestedAcresP90, field.GrossAcres, field.ZoneAcres, field.CarriedAcres, field.ReachKm)
)

// appendStandBalloon appends a stand's balloon: what to do first, then its size and what it puts at
// risk, then everything else that is known. In a large map it is short, since some globes hold the
// balloons of all stands at once.
func (m *mapper) appendStandBalloon(b []byte, t result.Table, i int) []byte {
	s := &m.run.Stands[i]
	b = m.appendToDo(b, s)
	if m.large {
		b = appendRows(append(b, "<table>"...), t, m.row, standShort)
		return append(b, "</table><p>stands.csv has the rest, and says what rests on assumed values.</p>"...)
	}
	b = appendPart(b, "Acres", t, m.row, standSizes)
	b = appendPart(b, "Water below", t, m.row, standReach)
	if m.rest == nil {
		m.rest = map[string]bool{}
		for _, f := range t.Fields {
			m.rest[f.Name] = !standTold[f.Name] && !standSizes[f.Name] && !standReach[f.Name]
		}
	}
	b = appendPart(b, "More", t, m.row, m.rest)
	if len(s.Assumed) > 0 || s.Zone.WidthAssumed {
		b = append(b, "<p>Some of these figures rest on assumed values: stands.csv names them.</p>"...)
	}
	return b
}

// appendToDo appends what to do about a stand, where, and under which rules.
func (m *mapper) appendToDo(b []byte, s *result.Stand) []byte {
	if s.AsksTreatment() {
		b = append(strconv.AppendInt(append(b, "<p><b>Number "...), int64(s.Advice.Order), 10), " in the order of treatment"...)
	} else {
		b = append(b, "<p><b>No treatment asked for now"...)
	}
	b = append(append(append(b, "</b>, "...), statusLabels[s.Status]...), "</p>"...)
	if s.FollowUp != "" {
		b = append(append(append(b, "<p>Next: "...), shown(s.FollowUp)...), "</p>"...)
	}
	b = m.appendWhere(b, s)
	if len(s.Advice.Requirements) > 0 {
		b = append(b, "<ul>"...)
		for _, r := range s.Advice.Requirements {
			b = append(append(append(b, "<li>"...), shown(r)...), "</li>"...)
		}
		b = append(b, "</ul>"...)
	}
	return append(b, balloonCaution...)
}

// appendWhere appends a stand's water, river km and place to go to.
func (m *mapper) appendWhere(b []byte, s *result.Stand) []byte {
	b = append(b, "<p>"...)
	if name := m.run.Line(s.Zone.Line).Name; name != "" {
		b = append(append(b, shown(name)...), ", "...)
	}
	if km := float64(s.Drift.RiverKm); km == km {
		b = append(strconv.AppendFloat(append(b, "river km "...), km, 'f', 1, 64), ", "...)
	}
	if finite(s.Center) {
		at := wrapped(s.Place())
		b = strconv.AppendFloat(append(b, "latitude "...), at.lat(), 'f', 5, 64)
		b = strconv.AppendFloat(append(b, ", longitude "...), at.lon(), 'f', 5, 64)
	}
	return append(b, "</p>"...)
}

// appendPart appends the named fields of a row under a heading; nothing if all are blank.
func appendPart(b []byte, heading string, t result.Table, row []result.Value, names map[string]bool) []byte {
	start := len(b)
	b = append(append(append(b, "<h4>"...), heading...), "</h4><table>"...)
	empty := len(b)
	if b = appendRows(b, t, row, names); len(b) == empty {
		return b[:start]
	}
	return append(b, "</table>"...)
}

// appendRows appends the named fields of a row that are not blank.
func appendRows(b []byte, t result.Table, row []result.Value, names map[string]bool) []byte {
	for k, v := range row {
		if names[t.Fields[k].Name] && !blank(v) {
			b = appendBalloonRow(b, t.Fields[k], v)
		}
	}
	return b
}
