package verify

import (
	"math/big"
	"slices"

	"driftreach/internal/field"
	"driftreach/internal/mapfile"
)

// Tables with the answers of a chain, and columns that several of them have.
const (
	cameTrueTable  = "risk_came_true.csv"
	newStandsTable = "new_stands.csv"
	effectTable    = "treatment_effect.csv"
	groupedBy      = field.GroupedBy
)

// grouped are the tables with one row for all and rows by group, and the columns in which the rows of
// each grouping must add up to the row for all.
var grouped = []repetition{
	{effectTable, []string{field.WorkDays, field.BeforeAcres, field.AfterAcres, field.LastAcres, field.Watched}},
	{"growth.csv", []string{field.Stands, field.StandYears}},
}

// learned checks the answers of a chain: groups against the row for all, shares against the numbers
// they are made from, and the number of new stands against the manifest.
func (r *Report) learned(kept map[string][]byte, m *mapfile.Manifest) {
	for _, g := range grouped {
		if t := newTable(kept[g.table]); t != nil {
			t.groups(g.columns)
			r.told(g.table, &t.faults)
		}
	}
	if t := newTable(kept[effectTable]); t != nil {
		t.control(field.Control, field.AfterAcres)
		t.control(field.ControlHeld, field.LastAcres)
		r.told(effectTable, &t.faults)
	}
	arrivals := newTable(kept[newStandsTable])
	if arrivals != nil && len(arrivals.rows) != m.Counts["new_stands"] {
		r.addf(newStandsTable, "has %d rows, and %s counts %d new stands", len(arrivals.rows), manifestFile, m.Counts["new_stands"])
	}
	if t := newTable(kept[cameTrueTable]); t != nil {
		t.cameTrue(arrivals, m)
		r.told(cameTrueTable, &t.faults)
	}
}

// roundings is how far the sum of n rounded rows may differ from the figure for all: half of the last
// digit for each row and for the total. Whole numbers are not rounded.
func (t *table) roundings(column string, n int) *big.Rat {
	places := t.decimals(column)
	if places == 0 {
		return new(big.Rat)
	}
	digit := unitOf(places)
	return digit.Mul(digit, big.NewRat(int64(n+1), 2))
}

// decimals is the largest number of decimals in a column.
func (t *table) decimals(column string) int {
	most := 0
	for i := range t.rows {
		if cell := t.text(i, column); cell != "" {
			for k := range cell {
				if cell[k] == '.' {
					most = max(most, len(cell)-k-1)
				}
			}
		}
	}
	return most
}

// groups checks that the rows of each grouping add up to the first row, which is for all.
func (t *table) groups(columns []string) {
	var groupings []string
	for i := range t.rows {
		if by := t.text(i, groupedBy); by != field.All && !slices.Contains(groupings, by) {
			groupings = append(groupings, by)
		}
	}
	for _, by := range groupings {
		for _, column := range columns {
			sum, n := new(big.Rat), 0
			for i := range t.rows {
				if t.text(i, groupedBy) == by {
					sum.Add(sum, t.number(i, column))
					n++
				}
			}
			if all := t.number(0, column); apart(sum, all, t.roundings(column, n)) {
				t.addf("%s: the rows by %s add up to %s, and that for all says %s", column, by, decimal(sum), decimal(all))
			}
		}
	}
}

// control checks the share of acres that work removed: 1 minus the live acres afterwards divided by
// those before, within the rounding of the printed digits.
func (t *table) control(share, after string) {
	acres, own := t.roundings(after, 0), t.roundings(share, 0)
	for i := range t.rows {
		before := t.number(i, field.BeforeAcres)
		if t.text(i, share) == "" || before.Sign() <= 0 {
			continue
		}
		left := new(big.Rat).Quo(t.number(i, after), before)
		want := new(big.Rat).Sub(big.NewRat(1, 1), left)
		off := new(big.Rat).Quo(new(big.Rat).Add(big.NewRat(1, 1), left), before)
		off.Add(off.Mul(off, acres), own)
		if said := t.number(i, share); apart(said, want, off) {
			t.addf("row %d: %s is %s, but from %s and before_acres it is %s", i+1, share, decimal(said), after, decimal(want))
		}
	}
}

// cameTrue checks the classes of the map of risk: the classes at risk add up to the row for all at
// risk, shares of new stands agree with their numbers, and the numbers agree with the new stands that
// count and with the manifest.
func (t *table) cameTrue(arrivals *table, m *mapfile.Manifest) {
	rows := map[string]int{}
	for i := range t.rows {
		rows[t.text(i, field.ExposureClass)] = i
	}
	atRisk, is := rows["at risk"]
	notAtRisk, also := rows["not at risk"]
	if !is || !also {
		return
	}
	for _, column := range []string{field.LookedAtKm, field.GroundShare, field.NewStands} {
		sum := new(big.Rat)
		for class, i := range rows {
			if class != "at risk" && class != "not at risk" {
				sum.Add(sum, t.number(i, column))
			}
		}
		if all := t.number(atRisk, column); apart(sum, all, t.roundings(column, len(t.rows)-2)) {
			t.addf("%s: the classes at risk add up to %s, and the row for all of them says %s", column, decimal(sum), decimal(all))
		}
	}
	counted := new(big.Rat).Add(t.number(atRisk, field.NewStands), t.number(notAtRisk, field.NewStands))
	if said := m.Counts["new_stands_counted"]; counted.Cmp(big.NewRat(int64(said), 1)) != 0 {
		t.addf("new_stands is %s in all, and %s counts %d", decimal(counted), manifestFile, said)
	}
	if arrivals != nil {
		n := 0
		for i := range arrivals.rows {
			if as := arrivals.text(i, field.CountsAs); as == "hit" || as == "miss" {
				n++
			}
		}
		if counted.Cmp(big.NewRat(int64(n), 1)) != 0 {
			t.addf("new_stands is %s in all, and %s has %d hits and misses", decimal(counted), newStandsTable, n)
		}
	}
	off := t.roundings(field.NewShare, 0)
	for i := range t.rows {
		if counted.Sign() == 0 || t.text(i, field.NewShare) == "" {
			continue
		}
		want, said := new(big.Rat).Quo(t.number(i, field.NewStands), counted), t.number(i, field.NewShare)
		if apart(said, want, off) {
			t.addf("row %d: new_share is %s, but from new_stands it is %s", i+1, decimal(said), decimal(want))
		}
	}
}
