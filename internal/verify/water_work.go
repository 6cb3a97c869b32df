package verify

import (
	"maps"
	"math"
	"math/big"
	"slices"
	"strings"

	"driftreach/internal/field"
)

// addedUp are, for each part, the columns in which the rows by place add up to the row for all.
var addedUp = map[string][]string{
	field.PartProposed: {field.Acres, field.ZoneAcres, field.Bank + field.InMeters, field.Channel + field.InMeters, field.BothBanks + field.InMeters, field.Shore + field.InMeters},
	field.PartDone:     {field.Acres, field.RepeatAcres, field.Jobs, field.JobsAcresUnknown},
	field.PartProduct:  {field.Amount, field.Jobs, field.JobsAmountUnknown},
}

// inMeters are the lengths that the table gives in metres, feet and miles.
var inMeters = []string{field.Bank, field.Channel, field.BothBanks, field.Shore}

// waterWork checks the table of work at the water, by itself and against the tables from which its
// figures come.
func (r *Report) waterWork(t, order, work, products *table) {
	if t == nil {
		return
	}
	r.waterSums(t)
	for i := range t.rows {
		if t.text(i, field.Part) == field.PartProposed {
			t.lengths(i)
		}
	}
	if order != nil {
		all := new(big.Rat)
		for i := range order.rows {
			all.Add(all, order.number(i, toTreatColumn))
		}
		for i := range t.rows {
			if said := t.number(i, field.Acres); t.text(i, field.Part) == field.PartProposed && t.text(i, field.Place) == field.All && said.Cmp(all) != 0 {
				t.addf("row %d: acres is %s, and %s has %s to treat", i+1, decimal(said), orderTable, decimal(all))
			}
		}
	}
	if work != nil {
		r.waterMonths(t, work)
	}
	if products != nil {
		r.waterProducts(t, products)
	}
	r.told(waterTable, &t.faults)
}

// waterSums checks the rows by place against the row for all, by part, year and product.
func (r *Report) waterSums(t *table) {
	key := func(i int) string {
		period := t.text(i, field.Period)
		parts := []string{t.text(i, field.Part), period[:min(4, len(period))]}
		for _, column := range []string{field.Product, field.RegistrationNumber, field.AmountUnit} {
			parts = append(parts, spaced(t.text(i, column)))
		}
		return strings.Join(parts, "\x00")
	}
	columns := func(part string) []string {
		own := addedUp[part]
		for column := range t.at {
			if part == field.PartProposed && strings.HasPrefix(column, field.AcresWithin) {
				own = append(own[:len(own):len(own)], column)
			}
		}
		return own
	}
	all, sums := map[string]int{}, map[string]map[string]*big.Rat{}
	for i := range t.rows {
		k := key(i)
		if t.text(i, field.Place) == field.All {
			all[k] = i
			continue
		}
		if sums[k] == nil {
			sums[k] = map[string]*big.Rat{}
		}
		for _, column := range columns(t.text(i, field.Part)) {
			if sums[k][column] == nil {
				sums[k][column] = new(big.Rat)
			}
			sums[k][column].Add(sums[k][column], t.number(i, column))
		}
	}
	for i := range t.rows {
		k := key(i)
		at, found := all[k]
		if !found {
			t.addf("row %d: there is no row of all places of its part and year", i+1)
			return
		}
		if at != i {
			continue
		}
		for _, column := range columns(t.text(i, field.Part)) {
			sum := sums[k][column]
			if sum == nil {
				sum = new(big.Rat)
			}
			if said := t.number(i, column); said.Cmp(sum) != 0 {
				t.addf("row %d: %s is %s, and the rows of places add up to %s", i+1, column, decimal(said), decimal(sum))
			}
		}
	}
}

// lengths checks the lengths in a row: the bank is the sum of the channel, of the part of it with areas
// along both banks, and of the shores; feet and miles agree with the metres.
func (t *table) lengths(i int) {
	at := func(column string) float64 { v, _ := t.number(i, column).Float64(); return v }
	meters := func(name string) float64 { return at(name + field.InMeters) }
	if sum := meters(field.Channel) + meters(field.BothBanks) + meters(field.Shore); math.Abs(meters(field.Bank)-sum) > 1e-6*max(1, sum) {
		t.addf("row %d: bank_m is %v, and channel, both banks and shore add up to %v", i+1, meters(field.Bank), sum)
	}
	for _, name := range inMeters {
		m := meters(name)
		if math.Abs(at(name+field.InFeet)-m/0.3048) > 0.051 || math.Abs(at(name+field.InMiles)-m/1609.344) > 0.51e-4 {
			t.addf("row %d: %s is %v m, %v ft and %v miles, which are not the same", i+1, name, m, at(name+field.InFeet), at(name+field.InMiles))
		}
	}
}

// waterMonths checks the work done in a month against the rows of work.
func (r *Report) waterMonths(t, work *table) {
	acres, jobs := map[string]*big.Rat{}, map[string]*big.Rat{}
	add := func(to map[string]*big.Rat, month string, x *big.Rat) {
		if to[month] == nil {
			to[month] = new(big.Rat)
		}
		to[month].Add(to[month], x)
	}
	less := func(x *big.Rat) *big.Rat { return new(big.Rat).Neg(x) }
	for i := range work.rows {
		month := work.text(i, field.Date)
		month = month[:min(len("2006-01"), len(month))]
		add(acres, month, work.number(i, field.TreatedAcres))
		add(jobs, month, big.NewRat(1, 1))
	}
	for i := range t.rows {
		if t.text(i, field.Part) != field.PartDone || t.text(i, field.Place) == field.All {
			continue
		}
		month := t.text(i, field.Period)
		add(acres, month, less(t.number(i, field.Acres)))
		add(acres, month, less(t.number(i, field.RepeatAcres)))
		add(jobs, month, less(t.number(i, field.Jobs)))
	}
	for _, month := range slices.Sorted(maps.Keys(acres)) {
		if acres[month].Sign() != 0 {
			t.addf("acres of %s are %s less than those of %s", month, decimal(acres[month]), workTable)
		}
		if n := jobs[month]; n.Sign() != 0 {
			t.addf("jobs of %s are %s less than the rows of %s", month, decimal(n), workTable)
		}
	}
}

// waterProducts checks the amounts of products by month against the products used.
func (r *Report) waterProducts(t, products *table) {
	key := func(t *table, i int, month string) string {
		parts := []string{month}
		for _, column := range []string{field.Product, field.RegistrationNumber, field.AmountUnit} {
			parts = append(parts, spaced(t.text(i, column)))
		}
		return strings.Join(parts, ", ")
	}
	left := map[string]*big.Rat{}
	of := func(k string) *big.Rat {
		if left[k] == nil {
			left[k] = new(big.Rat)
		}
		return left[k]
	}
	for i := range products.rows {
		k := key(products, i, products.text(i, field.Month))
		of(k).Add(of(k), products.number(i, field.Amount))
	}
	for i := range t.rows {
		if t.text(i, field.Part) == field.PartProduct && t.text(i, field.Place) != field.All {
			k := key(t, i, t.text(i, field.Period))
			of(k).Sub(of(k), t.number(i, field.Amount))
		}
	}
	for _, k := range slices.Sorted(maps.Keys(left)) {
		if left[k].Sign() != 0 {
			t.addf("amounts of %s are %s less than those of %s", k, decimal(left[k]), productsTable)
		}
	}
}

// spaced returns a text in lower case with single spaces.
func spaced(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), " ") }
