package flow

import (
	"slices"
	"testing"
)

// TestEachCell: cells of 10 degrees, by hand. The row north of the equator reaches to 10 N, where
// 360 degrees are as long as 35.4 of these cells: 35 columns. The row at the pole has one. A box of
// 360 degrees or more has each column once; so does a box, not narrow, that begins and ends in the
// same column.
func TestEachCell(t *testing.T) {
	c := cells{height: 10}
	every := func(from, to int32) (list []int32) {
		for x := from; x <= to; x++ {
			list = append(list, x)
		}
		return list
	}
	for name, test := range map[string]struct {
		box  box
		row  int32
		want []int32
	}{
		"one cell":                   {box{1, 1, 2, 2}, 9, []int32{17}}, // 181 of 360, times 35
		"a whole round":              {box{-180, 1, 180, 2}, 9, every(0, 34)},
		"more than a round":          {box{5, 1, 400, 2}, 9, every(0, 34)},
		"nearly a round":             {box{1, 1, 360.5, 2}, 9, every(0, 34)},
		"across 180":                 {box{179, 1, 181, 2}, 9, []int32{0, 34}},
		"at the pole":                {box{-20, 85, 100, 86}, 17, []int32{0}},
		"south of the pole, at -180": {box{-180, -89, -179, -88}, 0, []int32{0}},
	} {
		var got []int32
		c.eachCell(test.box, func(k uint64) bool {
			if row := int32(k >> 32); row != test.row {
				t.Errorf("%s: row %d, want %d", name, row, test.row)
			}
			got = append(got, int32(uint32(k)))
			return true
		})
		slices.Sort(got)
		if !slices.Equal(got, test.want) {
			t.Errorf("%s: columns %v, want %v", name, got, test.want)
		}
	}
	visits := 0
	c.eachCell(box{-180, -80, 180, 80}, func(uint64) bool { visits++; return visits < 3 })
	if visits != 3 {
		t.Errorf("%d cells visited, want the 3 asked for", visits)
	}
}
