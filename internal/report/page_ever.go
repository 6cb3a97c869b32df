package report

import (
	"slices"
	"strings"

	"driftreach/internal/result"
)

// everQuarters is how many quarters the table of stages shows. Our choice: a year and the quarter
// before it.
const everQuarters = 5

// everMapped describes everything ever mapped by stage: this quarter in one sentence, the last quarters in a
// table.
func (c *composer) everMapped() (string, Grid) {
	now := c.ever
	acres := func(r result.EverRow) Number { return figure(r.Acres, result.Acres) }
	all := now[len(now)-1]
	var parts []string
	for _, r := range now[:len(now)-1] {
		if r.Acres.Int != 0 || r.Stands > 0 {
			parts = append(parts, acres(r).Shown+" "+EverWords(r.Stage))
		}
	}
	note := "Nothing was ever mapped."
	if len(parts) > 0 {
		note = "Of " + acres(all).Shown + " acres ever mapped, in " + plural(all.Stands, "stand") + ": " + strings.Join(parts, ", ") + "."
	}
	rows := slices.Concat(c.run.EverBefore, now)
	var quarters []string
	for _, r := range rows {
		if len(quarters) == 0 || quarters[len(quarters)-1] != r.Quarter {
			quarters = append(quarters, r.Quarter)
		}
	}
	quarters = quarters[max(0, len(quarters)-everQuarters):]
	g := Grid{ID: "ever-table", Caption: "All ever mapped by stage, acres by quarter", Head: heads("Stage", "#Stands now")}
	for _, q := range quarters {
		g.Head = append(g.Head, Column{Label: q, Numeric: true})
	}
	for _, stage := range now {
		line := Line{Cells: []Cell{words(capital(EverWords(stage.Stage))), amount(Number{Exact: grouped(float64(stage.Stands), 0), Shown: grouped(float64(stage.Stands), 0)})}}
		for _, q := range quarters {
			at := everRow(rows, q, stage.Stage)
			if at < 0 {
				line.Cells = append(line.Cells, numericWords("–"))
				continue
			}
			line.Cells = append(line.Cells, amount(acres(rows[at])))
		}
		g.Rows = append(g.Rows, line)
	}
	g.Rows, g.Foot = g.Rows[:len(now)-1], g.Rows[len(now)-1:]
	return note, g
}

// EverWords returns a stage of ever_mapped.csv in words.
func EverWords(stage string) string {
	switch stage {
	case result.LostAgainStage:
		return "live, lost again after it was clear"
	case result.NoLongerFound:
		return "no longer found in stands that remain"
	case result.NotDetectedStage:
		return "not detected, treated since"
	case result.ReleasedStage:
		return "released from follow-up"
	}
	return strings.ReplaceAll(stage, "_", " ")
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// everRow returns the index of a quarter's stage in rows, -1 for none.
func everRow(rows []result.EverRow, quarter, stage string) int {
	return slices.IndexFunc(rows, func(r result.EverRow) bool { return r.Quarter == quarter && r.Stage == stage })
}
