package result

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/field"
	"driftreach/internal/survey"
)

// StandChangeTable returns the changes of the chain that count. It is empty without a previous batch.
func StandChangeTable(run *Run) Table {
	rows := slices.DeleteFunc(slices.Clone(run.LookChanges), func(c LookChange) bool { return !c.TakenBack.IsZero() })
	return Table{
		Name: "stand_changes", Title: "One row for each stand, quarter of the chain and row of its summary: what the stand added there to the changes since the last look (with --previous)",
		Fields: lookChangeFields(rows), Rows: len(rows),
	}
}

// TakenBackTable returns the changes of the chain that corrections took back.
func TakenBackTable(run *Run) Table {
	rows := TakenBack(run.LookChanges)
	back := Field{"taken_back_in", "Taken back in", NoUnit, Text, "Quarter of the batch whose corrections took it back.", "",
		func(_ *Run, i int) Value { return text(rows[i].TakenBack.String()) }}
	return Table{
		Name: "taken_back", Title: "One row for each stand, quarter and row of its summary: counted changes that corrections took back, of a look-alike or of a wrong look (with --previous). Trends leave them out",
		Fields: append([]Field{back}, lookChangeFields(rows)...), Rows: len(rows),
	}
}

// TakenBack returns the changes that corrections took back.
func TakenBack(all []LookChange) []LookChange {
	return slices.DeleteFunc(slices.Clone(all), func(c LookChange) bool { return c.TakenBack.IsZero() })
}

// lookChangeAcres are the columns of a change, in the order of LookChange's acres.
var lookChangeAcres = [...][3]string{
	{field.GrossSinceLastLookAcres, "Gross, since the last look", "gross acres"},
	{field.InfestedSinceLastLookAcres, "Infested, since the last look", "infested acres"},
	{field.CanopySinceLastLookAcres, "Canopy, since the last look", "canopy acres"},
	{field.ZoneSinceLastLookAcres, "In the zone, since the last look", "infested acres in the aquatic zone"},
	{field.TreatedStandsSinceLastLookAcres, "Treated stands, since the last look", "infested acres while the stand's status was treated"},
	{field.StandingDeadSinceLastLookAcres, "Standing dead, since the last look", "infested acres while the stand was standing dead"},
}

func lookChangeFields(rows []LookChange) []Field {
	word := func(name, label, says string, of func(c *LookChange) string) Field {
		return Field{name, label, NoUnit, Text, says, "", func(_ *Run, i int) Value { return text(of(&rows[i])) }}
	}
	fields := []Field{
		word(field.StandID, "Stand", "Stand, as it is known now.", func(c *LookChange) string { return c.StandID }),
		word(field.Quarter, "Quarter", "Calendar quarter in which it was counted.", func(c *LookChange) string { return c.Quarter.String() }),
		word(field.Scope, "Row of", "Row of that quarter's summary, as in summary.csv. The change is also in the total, once for its stream.", func(c *LookChange) string { return string(c.Scope) }),
		word(field.Name, "Name", "Name of the stream or the unit then.", func(c *LookChange) string { return c.Name }),
		word(field.UnitID, "Unit", "Identity of the reporting unit; blank where the batch did not say in which unit it was counted.", func(c *LookChange) string { return c.UnitID }),
		{"shared", "Share not known", NoUnit, Flag, "True where the change was counted for several stands that were one before, or for a stand that lost a part since: nobody knows how much of it was this stand's. If it is taken back, the trend of its row and of the total begins again after that quarter.", "",
			func(_ *Run, i int) Value { return flag(rows[i].Shared) }},
	}
	for k, column := range lookChangeAcres {
		fields = append(fields, Field{column[0], column[1], Acres, Number, "Counted change of " + column[2] + ", to 1e-10 acre.", "",
			func(_ *Run, i int) Value { return exactAcres(rows[i].acres[k]) }})
	}
	return fields
}

// exactAcres formats grains as acres without rounding.
func exactAcres(grains int64) Value {
	return Value{Kind: Number, Decimals: geo.GrainDecimals, Int: grains}
}

// ReadLookChanges reads the rows of stand_changes.csv or taken_back.csv, beginning with the header.
func ReadLookChanges(cells [][]string) ([]LookChange, error) {
	if len(cells) == 0 {
		return nil, errors.New("it is empty")
	}
	at := map[string]int{}
	for i, name := range cells[0] {
		at[name] = i
	}
	for _, name := range []string{field.StandID, "quarter", "scope", "name", "unit_id", "shared", lookChangeAcres[0][0], lookChangeAcres[1][0], lookChangeAcres[2][0], lookChangeAcres[3][0], lookChangeAcres[4][0], lookChangeAcres[5][0]} {
		if _, there := at[name]; !there {
			return nil, fmt.Errorf("there is no column %s", name)
		}
	}
	out := make([]LookChange, len(cells)-1)
	for i, row := range cells[1:] {
		if err := out[i].read(row, at); err != nil {
			return nil, fmt.Errorf("row %d: %w", i+1, err)
		}
	}
	return out, nil
}

// mostChanged is more acres than any stand can change by: the most grains that 64 bits hold.
const mostChanged = 9e8

func (c *LookChange) read(row []string, at map[string]int) (err error) {
	c.StandID, c.Scope, c.Shared = row[at[field.StandID]], Scope(row[at["scope"]]), row[at["shared"]] == "true"
	c.Name, c.UnitID = check.FromCell(row[at["name"]]), check.FromCell(row[at["unit_id"]])
	if c.Quarter, err = survey.ParseQuarter(row[at[field.Quarter]]); err != nil {
		return err
	}
	if k, there := at["taken_back_in"]; there {
		if c.TakenBack, err = survey.ParseQuarter(row[k]); err != nil {
			return err
		}
	}
	for k := range c.acres {
		cell := row[at[lookChangeAcres[k][0]]]
		v, ok := parseFixed(cell)
		if !ok || !(math.Abs(v.Float()) < mostChanged) {
			return fmt.Errorf("no acreage is %q", cell)
		}
		for c.acres[k] = v.Int; v.Decimals < geo.GrainDecimals; v.Decimals++ {
			c.acres[k] *= 10
		}
	}
	if strings.TrimSpace(c.StandID) == "" {
		return errors.New("no stand is named")
	}
	return nil
}
