package result

import (
	"cmp"
	"strconv"

	"driftreach/geo"
)

// Names of features, as maps of every format list them. The functions append them to b.

// AppendStandName appends the name of stand i, such as "3. 2026Q3-0007 (1.2 acres)". The number in the
// treatment order comes first, if the stand needs treatment.
func (r *Run) AppendStandName(b []byte, i int) []byte {
	s := &r.Stands[i]
	if s.AsksTreatment() {
		b = append(strconv.AppendInt(b, int64(s.Advice.Order), 10), ". "...)
	}
	b = append(append(b, s.ID...), " ("...)
	b = append(append(b, r.AcresShown(s.Infested.Grains())...), " acres)"...)
	if s.Carried() {
		b = append(append(b, ", as last known in "...), s.CarriedFrom.String()...)
	}
	return b
}

// AppendReachName appends the name of piece i of the reach at risk, such as "Alder Creek, km 3.00 to
// 2.00".
func (r *Run) AppendReachName(b []byte, i int) []byte {
	reach := &r.Reaches[i]
	return r.appendAlong(b, reach.Line, reach.FromKm, reach.ToKm)
}

// appendAlong appends a line's name, or its id if it has none, and the river km of a piece of it.
func (r *Run) appendAlong(b []byte, line int32, from, to geo.Kilometers) []byte {
	name := "stream"
	if line >= 0 && int(line) < r.CountLines() {
		is := r.Line(line)
		name = cmp.Or(is.Name, is.ID)
	}
	b = strconv.AppendFloat(append(append(b, name...), ", km "...), float64(from), 'f', 2, 64)
	return strconv.AppendFloat(append(b, " to "...), float64(to), 'f', 2, 64)
}

// AppendZoneName appends the name of the zone of water body i.
func (r *Run) AppendZoneName(b []byte, i int) []byte {
	name := r.Zones[i].WaterBody
	if name == "" {
		name = "streams without a name"
	}
	return append(append(b, "Aquatic zone, "...), name...)
}

// AppendAbsentName appends the name of absent stand i, such as "2026Q1-0007, not detected since
// 2026Q3".
func (r *Run) AppendAbsentName(b []byte, i int) []byte {
	a := &r.Absent[i]
	b = append(append(b, a.ID...), ", not detected since "...)
	return append(b, a.Since.String()...)
}

// AppendNoticeName appends the name of notice i: kind, work and stand.
func (r *Run) AppendNoticeName(b []byte, i int) []byte {
	n := &r.Notices[i]
	w := &r.Works[n.Work]
	kind := w.Kind
	if kind == "" {
		kind = "work"
	}
	b = append(append(append(b, kind...), ' '), w.ID...)
	return append(append(b, ", stand "...), r.Stands[n.Stand].ID...)
}

// AppendStretchName appends the name of stretch i, such as "3. Alder Creek, km 2.00 to 1.20". The
// number in the list comes first, if it is on the list.
func (r *Run) AppendStretchName(b []byte, i int) []byte {
	s := &r.Stretches[i]
	if s.Listed {
		b = append(strconv.AppendInt(b, int64(i+1), 10), ". "...)
	}
	return r.appendAlong(b, s.Lines[0], s.FromKm, s.ToKm)
}

// appendEdgeName appends the name of the stream of edge i of the network, or the id of its line.
func (r *Run) appendEdgeName(b []byte, i int) []byte {
	line := r.Line(edge(r, i).Line)
	if line.Name != "" {
		return append(b, line.Name...)
	}
	return append(b, line.ID...)
}
