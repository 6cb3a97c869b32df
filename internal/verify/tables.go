package verify

import (
	"math/big"
	"slices"
	"strconv"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/mapfile"
)

// repetition is a table and its columns that another table has too.
type repetition struct {
	table   string
	columns []string
}

// repeated are the tables that repeat columns of the table of stands.
var repeated = []repetition{
	{orderTable, []string{field.TreatOrder, field.ReachKm, field.ReachAloneKm, field.Exposure}},
	{mapfile.FollowupFile, []string{field.TreatOrder, field.RiverKm}},
	{mapfile.LineageFile, []string{acresColumn}},
	{mapfile.NoticesTable, []string{field.TreatOrder}},
}

// shared are the columns of a stand to which its rows by unit must add up.
var shared = []string{field.GrossAcres, acresColumn, field.CanopyAcres, field.ZoneAcres}

// spent are columns of the products used, with the columns of the work done that they sum up or whose
// blank cells they count.
var spent = []struct {
	sum, of string
	blanks  bool
}{
	{field.Jobs, "", true}, {field.Amount, field.Amount, false}, {field.TreatedAcres, field.TreatedAcres, false}, {field.Hours, field.Hours, false},
	{field.JobsAmountUnknown, field.Amount, true}, {field.JobsAcresUnknown, field.TreatedAcres, true},
}

// tables compares the figures of tables with each other.
func (r *Report) tables(kept map[string][]byte) {
	if stands := newTable(kept[standsTable]); stands != nil {
		for _, t := range repeated {
			r.repeats(t.table, newTable(kept[t.table]), t.columns, stands)
		}
		r.places(newTable(kept[unitsTable]), stands)
	}
	r.running(newTable(kept[orderTable]))
	r.products(newTable(kept[productsTable]), newTable(kept[workTable]))
	r.waterWork(newTable(kept[waterTable]), newTable(kept[orderTable]), newTable(kept[workTable]), newTable(kept[productsTable]))
}

// repeats compares columns with those of the stands. If only a part of a stand is to be treated, the
// order has the water of that part.
func (r *Report) repeats(name string, t *table, columns []string, stands *table) {
	if t == nil {
		return
	}
	rows := stands.byStand()
	var wrong faults
	for i := range t.rows {
		of, found := rows[t.text(i, standIDColumn)]
		if !found || name == orderTable && t.text(i, toTreatColumn) != stands.text(of, acresColumn) {
			continue
		}
		for _, column := range columns {
			if is, said := t.text(i, column), stands.text(of, column); is != said {
				wrong.addf("row %d: %s is %.40q, and %s says %.40q", i+1, column, is, standsTable, said)
			}
		}
	}
	r.told(name, &wrong)
}

// places compares the acres of stands by place, added up, with the stands.
func (r *Report) places(t, stands *table) {
	if t == nil {
		return
	}
	rows := stands.byStand()
	for _, column := range shared {
		sums := make([]*big.Rat, len(stands.rows))
		for i := range t.rows {
			if of, found := rows[t.text(i, standIDColumn)]; found {
				if sums[of] == nil {
					sums[of] = new(big.Rat)
				}
				sums[of].Add(sums[of], t.number(i, column))
			}
		}
		for of, sum := range sums {
			if sum != nil && sum.Cmp(stands.number(of, column)) != 0 {
				t.addf("%s: the rows of stand %s add up to %s, and %s says %s", column, stands.text(of, standIDColumn), decimal(sum), standsTable, stands.text(of, column))
			}
		}
	}
	r.told(unitsTable, &t.faults)
}

// running checks the running sum of acres treated against the stands. Sums and stands are each rounded
// once, so half a unit of the last digit is allowed for each row.
func (r *Report) running(t *table) {
	if t == nil {
		return
	}
	digit := new(big.Rat)
	for i := range t.rows {
		for _, column := range []string{toTreatColumn, treatedColumn} {
			_, decimals, _ := strings.Cut(t.text(i, column), ".")
			if one := unitOf(len(decimals)); digit.Sign() == 0 || one.Cmp(digit) < 0 {
				digit = one
			}
		}
	}
	half := digit.Quo(digit, big.NewRat(2, 1))
	sum, off := new(big.Rat), new(big.Rat).Set(half)
	for i := range t.rows {
		sum.Add(sum, t.number(i, toTreatColumn))
		off.Add(off, half)
		if said := t.number(i, treatedColumn); apart(said, sum, off) {
			t.addf("row %d: %s is %s, and the rows so far add up to %s", i+1, treatedColumn, decimal(said), decimal(sum))
			break
		}
	}
	r.told(orderTable, &t.faults)
}

// unitOf is one unit of the last of the given number of decimals.
func unitOf(decimals int) *big.Rat {
	return new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(min(decimals, 30))), nil))
}

// products checks the use of each product in a month against the work done.
func (r *Report) products(t, work *table) {
	if t == nil || work == nil {
		return
	}
	// names that differ only in case or spaces count as the same, as in the sums
	key := func(t *table, i int, month string) string {
		parts := []string{month}
		for _, column := range []string{field.Product, field.RegistrationNumber, field.AmountUnit} {
			parts = append(parts, spaced(t.text(i, column)))
		}
		return strings.Join(parts, "\x00")
	}
	sums := map[string][]*big.Rat{}
	for i := range work.rows {
		date := work.text(i, field.Date)
		of := key(work, i, date[:min(len("2006-01"), len(date))])
		if sums[of] == nil {
			for range spent {
				sums[of] = append(sums[of], new(big.Rat))
			}
		}
		for k, s := range spent {
			switch {
			case !s.blanks:
				sums[of][k].Add(sums[of][k], work.number(i, s.of))
			case work.text(i, s.of) == "": // the column does not exist, so every row counts
				sums[of][k].Add(sums[of][k], big.NewRat(1, 1))
			}
		}
	}
	for i := range t.rows {
		sum := sums[key(t, i, t.text(i, field.Month))]
		if sum == nil {
			t.addf("row %d: %s has no row of %s in %s", i+1, workTable, t.text(i, field.Product), t.text(i, field.Month))
			continue
		}
		for k, s := range spent {
			if said := t.number(i, s.sum); said.Cmp(sum[k]) != 0 {
				t.addf("row %d: %s is %s, and the rows of %s add up to %s", i+1, s.sum, decimal(said), workTable, decimal(sum[k]))
			}
		}
	}
	r.told(productsTable, &t.faults)
	r.told(workTable, &work.faults)
}

// bound is the allowed range of a column's figures.
type bound struct {
	ending    string
	low, high float64
}

// bounds are the ranges of columns by the end of their names: degrees and percentages.
var bounds = []bound{{"ongitude", -180, 180}, {"atitude", -90, 90}, {"_percent", 0, 100}}

// bounded checks positions and percentages of a table against their ranges.
func (r *Report) bounded(name string, data []byte) {
	rows := rowsOf(data)
	if len(rows) == 0 {
		return
	}
	for k, column := range rows[0] {
		at := slices.IndexFunc(bounds, func(b bound) bool { return strings.HasSuffix(column, b.ending) })
		if at < 0 {
			continue
		}
		for i, row := range rows[1:] {
			v, err := strconv.ParseFloat(row[k], 64)
			if row[k] != "" && (err != nil || !(v >= bounds[at].low && v <= bounds[at].high)) {
				r.addf(name, "row %d: %s is %.40q, and lies outside %g to %g", i+1, column, row[k], bounds[at].low, bounds[at].high)
				break
			}
		}
	}
}
