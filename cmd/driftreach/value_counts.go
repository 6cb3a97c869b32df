package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// mostValues is how many different values of a column are counted. Our choice: more would not fit on a
// line.
const mostValues = 8

// valueCounts counts the values of a column, as long as there are few different ones.
type valueCounts struct {
	each []valueCount
	last int // index of the previous value, which often comes next again
	many bool
}

type valueCount struct {
	value string
	times int
}

func (c *valueCounts) add(value string) {
	if c.many {
		return
	}
	if c.last >= len(c.each) || c.each[c.last].value != value {
		c.last = slices.IndexFunc(c.each, func(v valueCount) bool { return v.value == value })
	}
	switch {
	case c.last >= 0:
		c.each[c.last].times++
	case len(c.each) == mostValues:
		c.many, c.each = true, nil
	default:
		c.last = len(c.each)
		c.each = append(c.each, valueCount{value, 1})
	}
}

// String lists the values with their counts, the most frequent first. It is blank if there are none or
// too many, or if each occurs once.
func (c *valueCounts) String() string {
	often := slices.SortedFunc(slices.Values(c.each), func(a, b valueCount) int {
		return cmp.Or(cmp.Compare(b.times, a.times), strings.Compare(a.value, b.value))
	})
	if c.many || len(often) == 0 || len(often) > 1 && often[0].times == 1 {
		return ""
	}
	var parts []string
	for _, v := range often {
		parts = append(parts, fmt.Sprintf("%s (%s)", shown(v.value), count(v.times)))
	}
	return strings.Join(parts, ", ")
}

// maxCell is the longest value in the table. Our choice: long enough for four column names.
const maxCell = 70

// shown shortens a value to fit its cell.
func shown(text string) string {
	// a cell may be megabytes
	letters := []rune(oneLine(text[:min(len(text), utf8.UTFMax*(maxCell+1))]))
	if len(letters) > maxCell {
		return string(letters[:maxCell-3]) + "..."
	}
	return string(letters)
}
