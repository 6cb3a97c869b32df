package verify

import (
	"math/big"
	"slices"
	"strconv"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/mapfile"
)

// repetition is a table with columns that another has too.
type repetition struct {
	table   string
	columns []string
}

// repeated are the columns of tables that say again what the table of stands says of
// a stand.
var repeated = []repetition{
	{orderTable, []string{field.TreatOrder, field.ReachKm, field.ReachAloneKm, field.Exposure}},
	{mapfile.FollowupFile, []string{field.TreatOrder, field.RiverKm}},
	{mapfile.LineageFile, []string{acresColumn}},
	{mapfile.NoticesTable, []string{field.TreatOrder}},
}

// shared are the columns of a stand that its places' rows add up to.
var shared = []string{field.GrossAcres, acresColumn, field.CanopyAcres, field.ZoneAcres}

// spent are the columns of the products used, with those of the work done that they
// are sums of, or count the blank cells of.
var spent = []struct {
	sum, of string
	blanks  bool
}{
	{field.Jobs, "", true}, {field.Amount, field.Amount, false}, {field.TreatedAcres, field.TreatedAcres, false}, {field.Hours, field.Hours, false},
	{field.JobsAmountUnknown, field.Amount, true}, {field.JobsAcresUnknown, field.TreatedAcres, true},
}

// tables holds the figures of tables against each other.
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

// repeats holds columns against those of the stands. A stand of which a part alone is
// to be treated has that part's water in the order.
func (r *Report) repeats(name string, t *table, columns []string, stands *table) {
	if t == nil {
		return
	}
	rows, told := stands.byStand(), 0
	for i := range t.rows {
		of, found := rows[t.text(i, standIDColumn)]
		if !found || name == orderTable && t.text(i, toTreatColumn) != stands.text(of, acresColumn) {
			continue
		}
		for _, column := range columns {
			if is, said := t.text(i, column), stands.text(of, column); is != said && told < mostTold {
				told++
				r.addf(name, "row %d: %s is %.40q, and %s says %.40q", i+1, column, is, standsTable, said)
			}
		}
	}
}

// places holds the acres of stands by place, added up, against the stands.
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
	r.told(unitsTable, t)
}

// running holds the acres treated so far against those of each stand in turn. Sums
// and stands are each rounded once: half a unit of the last digit a row.
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
	r.told(orderTable, t)
}

// unitOf is one in the last of so many decimals.
func unitOf(decimals int) *big.Rat {
	return new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(min(decimals, 30))), nil))
}

// products holds what was used of each product in a month against the work done.
func (r *Report) products(t, work *table) {
	if t == nil || work == nil {
		return
	}
	// names that differ in case or spaces alone are one, as in the sums
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
			case work.text(i, s.of) == "": // as of the column that is none, so every row
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
	r.told(productsTable, t)
	r.told(workTable, work)
}

// bound is what the figures of columns may be.
type bound struct {
	ending    string
	low, high float64
}

// bounds are those of columns, by how their names end: degrees and shares of a hundred.
var bounds = []bound{{"ongitude", -180, 180}, {"atitude", -90, 90}, {"_percent", 0, 100}}

// bounded holds places and shares of a table against what they may be.
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
