package verify

import (
	"bytes"
	"encoding/csv"
	"math/big"
	"strings"
)

// table is a table whose cells are found by column name.
type table struct {
	at   map[string]int
	rows [][]string
	faults
}

// rowsOf reads a table, header first; nil if it cannot be read.
func rowsOf(data []byte) [][]string {
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		return nil
	}
	return rows
}

// newTable reads a table and its columns; nil if it cannot be read.
func newTable(data []byte) *table {
	rows := rowsOf(data)
	if len(rows) == 0 {
		return nil
	}
	t := &table{rows: rows[1:], at: map[string]int{}}
	for i, name := range rows[0] {
		t.at[name] = i
	}
	return t
}

// text returns a cell; blank if there is no such column.
func (t *table) text(row int, column string) string {
	at, found := t.at[column]
	if !found {
		return ""
	}
	return t.rows[row][at]
}

// byStand indexes the rows of a table of stands by stand id.
func (t *table) byStand() map[string]int {
	rows := make(map[string]int, len(t.rows))
	for i := range t.rows {
		rows[t.text(i, standIDColumn)] = i
	}
	return rows
}

// number returns the exact value of a cell; 0 if it is blank or not a number.
func (t *table) number(row int, column string) *big.Rat {
	at, found := t.at[column]
	if !found || t.rows[row][at] == "" {
		return new(big.Rat)
	}
	cell := t.rows[row][at]
	// no exponents: a short text can mean a number with a million digits
	r, ok := new(big.Rat), len(cell) <= 40 && strings.Trim(cell, "-.0123456789") == ""
	if ok {
		r, ok = r.SetString(cell)
	}
	limit := new(big.Rat).SetFloat64(maxAcres)
	if !ok || new(big.Rat).Abs(r).Cmp(limit) > 0 {
		t.addf("row %d: %s is %.40q, which is not a figure that this program writes", row+1, column, cell)
		return new(big.Rat)
	}
	return r
}

// decimal formats an exact figure with at most six decimals.
func decimal(r *big.Rat) string {
	if r.IsInt() {
		return r.Num().String()
	}
	return r.FloatString(6)
}

// apart says whether two figures differ by more than off.
func apart(a, b, off *big.Rat) bool {
	by := new(big.Rat).Sub(a, b)
	return by.Abs(by).Cmp(off) > 0
}
