package trend

import (
	"fmt"
	"strconv"
	"strings"
)

// figure reads one cell. A level may be blank only if earlier versions lack it, and only changes
// may be below 0.
func figure(m Measure, cell string) (int64, error) {
	if cell == "" && (!m.isLevel() || m.mayLack()) {
		return Blank, nil
	}
	if digits, minus := strings.CutPrefix(cell, "-"); minus && m.signed() {
		n, err := fixedPoint(digits)
		return -n, err
	}
	return fixedPoint(cell)
}

// fixedPoint reads a number with at most Decimals decimals, in units of the last.
func fixedPoint(text string) (int64, error) {
	whole, part, _ := strings.Cut(text, ".")
	digits := whole + part + strings.Repeat("0", max(0, Decimals-len(part)))
	n, err := strconv.ParseUint(digits, 10, 53)
	if err != nil || len(part) > Decimals || whole == "" {
		return 0, fmt.Errorf("%q is not a figure that this program writes", text)
	}
	return int64(n), nil
}
