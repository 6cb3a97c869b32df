package result

import (
	"fmt"
	"slices"
	"strconv"

	"driftreach/internal/allocate"
	"driftreach/internal/field"
	"driftreach/internal/followup"
	"driftreach/internal/survey"
)

// The stages, and EverAll for all of them together. Between NotDetectedStage and ReleasedStage come the
// stages of stands that have been clear for one year, two years and so on.
const (
	liveStage         = "live"
	LostAgainStage    = "lost_again"
	treatedStage      = "treated"
	deadStage         = "standing_dead"
	NoLongerFound     = "no_longer_found"
	NotDetectedStage  = "not_detected"
	ReleasedStage     = "released"
	EverAll           = "ever_mapped"
	clearStagePattern = "clear_%d_years"
)

// clearStage is the stage of stands that were clear in the given number of visits, a year apart.
func clearStage(years int) string {
	if years == 1 {
		return "clear_1_year"
	}
	return fmt.Sprintf(clearStagePattern, years)
}

// everStages lists the stages of a batch in order.
func everStages(run *Run) []string {
	out := append(slices.Clone(mapStages), NoLongerFound, NotDetectedStage)
	for years := 1; years < run.FollowUp.ClearYears; years++ {
		out = append(out, clearStage(years))
	}
	return append(out, ReleasedStage)
}

// EverMapped returns everything ever mapped in the chain by stage, with a last row for the total:
// stands on the map with their infested acres, the acres of these stands that are no longer found, and
// stands not detected since with the most acres they ever had. The printed stages add up to the last
// row, and those on the map to the infested acres in the summary.
func EverMapped(run *Run) []EverRow {
	l := ledger{stands: map[string]int{}, acres: map[string]int64{}}
	for i := range run.Stands {
		s := &run.Stands[i]
		infested := s.Infested.Grains()
		l.add(stageOf(s), 1, infested)
		l.add(NoLongerFound, 0, max(0, s.Memory.Ever-infested))
	}
	visits := make(map[string]*Visit, len(run.Visits))
	for i := range run.Visits {
		visits[run.Visits[i].StandID] = &run.Visits[i]
	}
	for i := range run.Absent {
		a := &run.Absent[i]
		l.add(goneStage(visits[a.ID], run.FollowUp.ClearYears), 1, max(a.Memory.Ever, a.InfestedAcres()))
	}
	gone := everStages(run)[len(mapStages):]
	l.print(Summarize(run)[0], gone, acreStep(run.acreDecimals()))
	var rows []EverRow
	all, known := int64(0), 0
	for _, stage := range everStages(run) {
		rows = append(rows, EverRow{run.Quarter.String(), stage, l.stands[stage], run.acres(l.acres[stage])})
		all, known = all+l.acres[stage], known+l.stands[stage]
	}
	return append(rows, EverRow{run.Quarter.String(), EverAll, known, run.acres(all)})
}

// mapStages are the stages of stands on the map.
var mapStages = []string{liveStage, LostAgainStage, treatedStage, deadStage}

// ledger counts stands and their acres, in grains, by stage.
type ledger struct {
	stands map[string]int
	acres  map[string]int64
}

func (l *ledger) add(stage string, stands int, grains int64) {
	l.stands[stage] += stands
	l.acres[stage] += grains
}

// print rounds the acres. Those on the map are the summary's printed total, by status. Those that are
// gone are rounded so that all together are the exact total, rounded once.
func (l *ledger) print(total Sum, gone []string, step int64) {
	exact, parts := int64(0), make([]int64, len(gone))
	for _, grains := range l.acres { // integers: the order does not matter
		exact += grains
	}
	for i, stage := range gone {
		parts[i] = l.acres[stage]
	}
	parts = allocate.ToTotal(max(0, allocate.Round(exact, step)-total.Infested), parts, step, nil)
	for i, stage := range gone {
		l.acres[stage] = parts[i]
	}
	l.acres[treatedStage], l.acres[deadStage] = total.ByStatus[survey.Treated], total.ByStatus[survey.StandingDead]
	live := total.Infested - l.acres[treatedStage] - l.acres[deadStage]
	l.acres[LostAgainStage] = min(allocate.Round(l.acres[LostAgainStage], step), live)
	l.acres[liveStage] = live - l.acres[LostAgainStage]
}

// stageOf returns the stage of a stand on the map.
func stageOf(s *Stand) string {
	switch {
	case s.Status == survey.Treated:
		return treatedStage
	case s.Status == survey.StandingDead:
		return deadStage
	case s.Memory.Lost:
		return LostAgainStage
	}
	return liveStage
}

// goneStage returns the stage of a stand that is not on the map, from its follow-up.
func goneStage(v *Visit, clearYears int) string {
	switch {
	case v == nil:
	case v.State == followup.Released:
		return ReleasedStage
	case v.State == followup.Watch && v.Clear.Years > 0:
		return clearStage(min(v.Clear.Years, max(1, clearYears-1)))
	}
	return NotDetectedStage
}

// EverMappedTable returns the stages of the chain's earlier batches, as printed, and of this one.
func EverMappedTable(run *Run) Table {
	rows := run.EverBefore
	if run.FollowUp.ClearYears > 0 { // not for an empty run
		rows = slices.Concat(rows, EverMapped(run))
	}
	return EverTable(rows)
}

// EverTable returns the table with the given rows.
func EverTable(rows []EverRow) Table {
	return Table{
		Name: "ever_mapped", Title: "One row for each quarter and stage; the stages add up to all that was ever mapped",
		Rows: len(rows),
		Fields: []Field{
			{field.Quarter, "Quarter", NoUnit, Text, "Calendar quarter of the batch; those of earlier batches of the chain come first, as they were printed.", "",
				func(_ *Run, i int) Value { return text(rows[i].Quarter) }},
			{"stage", "Stage", NoUnit, Text, "live (untreated and regrowth), lost_again (live too: found again after it was not detected, and not treated since), treated, standing_dead; no_longer_found (the most acres that stands on the map ever had, less what they have now); not_detected (looked for and not detected, treated since), clear_1_year and so on (not detected in so many looks a year apart), released (no further follow-up is planned; that does not prove that the plant is gone); ever_mapped is all of them.", "years until release are a setting",
				func(_ *Run, i int) Value { return text(rows[i].Stage) }},
			{field.Stands, "Stands", NoUnit, Count, "Stands in the stage; 0 for no_longer_found, whose stands count in their present stage.", "",
				func(_ *Run, i int) Value { return count(rows[i].Stands) }},
			{field.Acres, "Acres", Acres, Number, "Infested acres now, for stands on the map, which add up to the summary's infested_acres; for other stands the most they ever had.", "",
				func(_ *Run, i int) Value { return rows[i].Acres }},
		},
	}
}

// ReadEver reads a row of ever_mapped.csv.
func ReadEver(cells []string) (EverRow, error) {
	if len(cells) != 4 {
		return EverRow{}, fmt.Errorf("a row has %d cells", len(cells))
	}
	stands, err := strconv.Atoi(cells[2])
	if err != nil || stands < 0 {
		return EverRow{}, fmt.Errorf("no number of stands is %q", cells[2])
	}
	acres, ok := parseFixed(cells[3])
	if !ok || acres.Int < 0 {
		return EverRow{}, fmt.Errorf("no acreage is %q", cells[3])
	}
	if _, err := survey.ParseQuarter(cells[0]); err != nil {
		return EverRow{}, err
	}
	return EverRow{cells[0], cells[1], stands, acres}, nil
}
