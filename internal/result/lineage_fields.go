package result

import (
	"cmp"
	"slices"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// lineageRow is one line of the stands' history: a link, a new stand, or a stand of the previous batch
// without a link.
type lineageRow struct {
	stand  int32 // index into the run's Stands; -1 for none
	known  int32 // index into Previous.Known; -1 for none
	link   *lineage.Link
	change lineage.Change
}

// LineageTable returns the table of what became of each stand since the previous batch: one row for
// each pair of linked stands, and one for each stand of either batch without a link. It is empty
// without a previous batch.
func LineageTable(run *Run) Table {
	rows := lineageRows(run)
	return Table{
		Name: "lineage", Title: "One row for each stand of this batch and each stand that it continues, and one for each stand that is new, was not detected or was not visited",
		Fields: append(lineageStands(rows), lineageGround(rows)...), Rows: len(rows),
	}
}

// lineageRows lists the rows sorted by present id (or else previous id), then by previous id.
func lineageRows(run *Run) []lineageRow {
	if run.Previous == nil {
		return nil
	}
	var rows []lineageRow
	for i := range run.Previous.Links {
		link := &run.Previous.Links[i]
		rows = append(rows, lineageRow{link.Stand, link.Known, link, run.Stands[link.Stand].Change})
	}
	carried := map[string]int32{}
	for i := range run.Stands {
		switch s := &run.Stands[i]; {
		case s.Carried():
			carried[s.ID] = int32(i)
		case len(s.Parents) == 0:
			rows = append(rows, lineageRow{int32(i), -1, nil, s.Change})
		}
	}
	for k, fate := range run.Previous.Fates {
		known := &run.Previous.Known[k]
		if fate == "" || known.Absent {
			continue
		}
		at, ok := carried[known.ID]
		if !ok {
			at = -1
		}
		rows = append(rows, lineageRow{at, int32(k), nil, fate})
	}
	slices.SortFunc(rows, func(a, b lineageRow) int {
		return cmp.Or(strings.Compare(a.first(run), b.first(run)), strings.Compare(a.second(run), b.second(run)))
	})
	return rows
}

// first and second are the sort keys of a row.
func (l *lineageRow) first(run *Run) string {
	if l.stand >= 0 {
		return run.Stands[l.stand].ID
	}
	return l.second(run)
}

func (l *lineageRow) second(run *Run) string {
	if l.known < 0 {
		return ""
	}
	return run.Previous.Known[l.known].ID
}

func lineageStands(rows []lineageRow) []Field {
	return []Field{
		{field.StandID, "Stand", NoUnit, Text, "Stand of this batch; blank for a stand of the batch before that was not detected.", "",
			func(r *Run, i int) Value { return text(r.standID(rows[i].stand)) }},
		{field.Quarter, "Quarter", NoUnit, Text, "Calendar quarter of the batch.", "",
			func(r *Run, _ int) Value { return quarterText(r.Quarter) }},
		{field.Change, "Change", NoUnit, Text, "As in stands.csv; or not detected: its ground was looked at and nothing was found; or what a correction made of it: misidentified (a look-alike), same stand (it became part of another), not the same stand (all of it has a new identity).", "shares and distances assumed [A]",
			func(_ *Run, i int) Value { return text(string(rows[i].change)) }},
		{field.PreviousID, "Continues", NoUnit, Text, "Stand known before; blank for a new one.", "",
			func(r *Run, i int) Value { return text(rows[i].second(r)) }},
		{"previous_quarter", "Last surveyed in", NoUnit, Text, "Quarter in which the stand known before was last surveyed and found.", "",
			func(r *Run, i int) Value {
				if rows[i].known < 0 {
					return Value{}
				}
				return quarterText(r.Previous.Known[rows[i].known].Quarter)
			}},
		{"keeps_id", "Keeps the identity", NoUnit, Flag, "True when the stand keeps the identity that it had before.", "largest shared ground first [C]",
			func(_ *Run, i int) Value { return flag(rows[i].keepsID()) }},
	}
}

// keepsID says whether the stand keeps its id in this row.
func (l *lineageRow) keepsID() bool {
	return l.change.Stays() || l.link != nil && l.link.Heir
}

func lineageGround(rows []lineageRow) []Field {
	return []Field{
		{"shared_acres", "Shared ground", Acres, Number, "Ground that both footprints cover; 0 where they are linked only by distance, blank without a link.", "",
			func(r *Run, i int) Value {
				if rows[i].link == nil {
					return Value{}
				}
				return r.area(rows[i].link.Shared)
			}},
		{"apart_m", "Apart", Meters, Number, "Shortest distance between the footprints where they are linked by distance; 0 where they share ground, blank without a link.", "",
			func(_ *Run, i int) Value {
				if rows[i].link == nil {
					return Value{}
				}
				return number(float64(rows[i].link.Apart), Meters)
			}},
		{field.PreviousAcres, "Infested before", Acres, Number, "Infested acres of the stand known before, as last mapped, or as printed if a correction removed it; blank for a new stand. A stand with several rows has them in each.", "",
			func(r *Run, i int) Value {
				if rows[i].known < 0 {
					return Value{}
				}
				known := &r.Previous.Known[rows[i].known]
				if known.Out != "" {
					return r.acres(r.Previous.Then[rows[i].known].Infested)
				}
				return r.acres(known.InfestedAcres())
			}},
		{field.InfestedAcres, "Infested now", Acres, Number, "Infested acres of the stand of this batch; blank for a stand not detected. A stand with several rows has them in each.", "",
			func(r *Run, i int) Value {
				if rows[i].stand < 0 {
					return Value{}
				}
				return r.area(r.Stands[rows[i].stand].Infested)
			}},
		{field.Visited, "Visited", NoUnit, Flag, "True when some of the stand known before was looked at or found; blank for a new one.", "surveyed ground or records; distances assumed [A]",
			func(r *Run, i int) Value {
				if rows[i].known < 0 {
					return Value{}
				}
				return flag(rows[i].link != nil || r.Previous.Looks[rows[i].known].Share > 0)
			}},
		{"surveyed_percent", "Looked at", Percent, Number, "Share of the stand known before that was looked at this quarter or found again; the rest is carried. Blank for a new stand.", "surveyed ground or records; distances assumed [A]",
			func(r *Run, i int) Value {
				if rows[i].known < 0 {
					return Value{}
				}
				return number(100*r.Previous.Looks[rows[i].known].Share, Percent)
			}},
	}
}

// quarterText returns a quarter as a Text; Null for none.
func quarterText(q survey.Quarter) Value {
	if q.IsZero() {
		return Value{}
	}
	return text(q.String())
}
