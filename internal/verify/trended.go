package verify

import (
	"context"
	"io/fs"
	"math/big"
	"path"
	"slices"
	"strconv"

	"driftreach/internal/field"
	"driftreach/internal/mapfile"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// trended checks the tables of a trend against each other: each quarter's rows of the series against
// their total, and each trend against the values it was made from.
func (r *Report) trended(kept map[string][]byte) {
	series, trends := newTable(kept[seriesTable]), newTable(kept[trendTable])
	if series == nil {
		return
	}
	r.quarters(seriesTable, rowsOf(kept[seriesTable]))
	if trends == nil {
		return
	}
	values := seriesOf(series)
	for i := range trends.rows {
		trends.trend(i, series, values)
	}
	r.told(trendTable, &trends.faults)
	r.told(seriesTable, &series.faults)
}

// place is what a row of a series is about.
type place struct{ scope, name, unit string }

func (t *table) place(i int) place {
	return place{t.text(i, field.Scope), t.text(i, field.Name), t.text(i, field.UnitID)}
}

// seriesOf returns the rows of each place, in the order of the table.
func seriesOf(t *table) map[place][]int {
	rows := map[place][]int{}
	for i := range t.rows {
		rows[t.place(i)] = append(rows[t.place(i)], i)
	}
	return rows
}

// slopeDigits is the tolerance of a slope: half of its last printed digit, and the effect that rounding
// of the values to as many digits has within a quarter of a year.
var slopeDigits = big.NewRat(5, 1_000_000)

// trend checks row i of the trends against the series: the first and last value, the number of values,
// Theil and Sen's slope, and the number of rising minus falling pairs.
func (t *table) trend(i int, series *table, rows map[place][]int) {
	measure, from := t.text(i, field.Measure), t.text(i, field.FirstQuarter)
	column, chained := field.SameGround+measure, true
	if _, there := series.at[column]; !there {
		column, chained = measure, false
	}
	seasons := make([][]trend.Sample, 4)
	var used []int
	for _, k := range rows[t.place(i)] {
		looked := k
		if !chained { // the sources of reach may be anywhere
			looked = slices.IndexFunc(series.rows, func(row []string) bool {
				return row[series.at[field.Scope]] == string(field.ScopeTotal) && row[series.at[field.Quarter]] == series.text(k, field.Quarter)
			})
		}
		q, err := survey.ParseQuarter(series.text(k, field.Quarter))
		if err != nil || looked < 0 || series.text(looked, field.Looked) != "true" || series.text(k, column) == "" || series.text(k, field.Quarter) < from {
			continue
		}
		value, _ := series.number(k, column).Float64()
		seasons[q.Number-1] = append(seasons[q.Number-1], trend.Sample{Time: trend.Years(q), Value: value})
		used = append(used, k)
	}
	row := i + 1
	if said := t.text(i, field.Quarters); said != strconv.Itoa(len(used)) {
		t.addf("row %d: quarters is %.40q, and %s has %d values of %s", row, said, seriesTable, len(used), column)
		return
	}
	if len(used) == 0 {
		return
	}
	first, last := used[0], used[len(used)-1]
	for _, c := range []struct {
		name, of string
		at       int
	}{
		{field.FirstQuarter, field.Quarter, first}, {field.LastQuarter, field.Quarter, last}, {field.FirstValue, column, first}, {field.LastValue, column, last},
		{field.FirstMapped, measure, first}, {field.LastMapped, measure, last},
	} {
		if is, said := t.text(i, c.name), series.text(c.at, c.of); is != said {
			t.addf("row %d: %s is %.40q, and %s says %.40q", row, c.name, is, seriesTable, said)
		}
	}
	if len(used) < 2 {
		return
	}
	if t.text(i, field.Method) != trend.MethodSeasonal {
		seasons = [][]trend.Sample{slices.Concat(seasons...)}
	}
	slope, said := new(big.Rat).SetFloat64(trend.Slope(seasons...)), t.number(i, field.Slope)
	if t.text(i, field.Method) == "" && t.text(i, field.Slope) == "" {
		return
	}
	if apart(slope, said, slopeDigits) {
		t.addf("row %d: slope is %s, but the values of %s in %s give %s", row, decimal(said), column, seriesTable, decimal(slope))
	}
	if s := t.text(i, field.S); s != "" && s != strconv.Itoa(risingLessFalling(seasons)) {
		t.addf("row %d: s is %.40q, but the values of %s in %s give %d", row, s, column, seriesTable, risingLessFalling(seasons))
	}
}

// risingLessFalling is Kendall's S: the number of rising pairs of values minus that of falling ones.
func risingLessFalling(seasons [][]trend.Sample) (s int) {
	for _, samples := range seasons {
		for i, a := range samples {
			for _, b := range samples[i+1:] {
				if rises := b.Value > a.Value == (b.Time > a.Time); b.Value == a.Value {
					continue
				} else if rises {
					s++
				} else {
					s--
				}
			}
		}
	}
	return s
}

// chained looks for the batches from which a trend or the answers of a chain were made, in folders with
// the names given in the manifest. It compares the figures of a trend with the summaries of the
// batches.
func (r *Report) chained(ctx context.Context, beside fs.FS, kept map[string][]byte, m *mapfile.Manifest) {
	series := newTable(kept[seriesTable])
	for _, want := range m.Inputs {
		if want.Role != mapfile.BatchRole {
			continue
		}
		manifest := path.Base(want.Name) == manifestFile
		if manifest {
			r.Batches++
		}
		if beside == nil || !fs.ValidPath(want.Name) {
			continue
		}
		data, sum, err := read(ctx, beside, want.Name, maxChecked)
		switch {
		case err != nil:
		case sum != want.SHA256:
			r.addf("", "%s is not the file that this was made from: the batch was run again, or is another one", want.Name)
		case manifest:
			r.Found++
		case path.Base(want.Name) == summaryFile && series != nil:
			r.summarized(series, want.Name, data)
		}
	}
	if series != nil {
		r.told(seriesTable, &series.faults)
	}
}

// summarized compares the figures of one quarter of a series with the batch's summary.
func (r *Report) summarized(series *table, name string, data []byte) {
	rows := rowsOf(data)
	if len(rows) == 0 {
		return
	}
	summary := newTable(data)
	names, _ := trend.PresentNames(rows[0])
	for k, column := range names {
		summary.at[column] = k
	}
	quarter := summary.text(0, field.Quarter)
	at := map[place]int{}
	for i := range series.rows {
		if series.text(i, field.Quarter) == quarter {
			at[series.place(i).known()] = i
		}
	}
	for i := range summary.rows {
		k, found := at[summary.place(i).known()]
		if !found {
			continue // control work on no stand has no series
		}
		for _, column := range names {
			if !isFigure(column) || summary.text(i, column) == "" || series.text(k, column) == "" {
				continue
			}
			if is, said := series.number(k, column), summary.number(i, column); is.Cmp(said) != 0 {
				series.addf("row %d: %s is %s, and %s says %s", k+1, column, decimal(is), name, decimal(said))
			}
		}
	}
}

// known returns the place as it is identified in every quarter: a unit keeps its id, but its name may
// change.
func (p place) known() place {
	if p.unit != "" {
		p.name = ""
	}
	return p
}
