package intake

import (
	"fmt"
	"math"
	"strings"
	"time"

	"driftreach/internal/check"

	"github.com/paulmach/orb"
)

// These functions write a value as it was understood, for check to show; blank for none.

func dayText(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

func numberText(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return check.Digits(v, 6)
}

// nonzeroText writes a number of which 0 means not recorded.
func nonzeroText(v float64) string {
	if v == 0 {
		return ""
	}
	return numberText(v)
}

// positionText writes the coordinate of a position that the field asks for.
func positionText(p orb.Point, field string) string {
	switch field {
	case "decimalLongitude":
		return DegreesText(p[0])
	case "decimalLatitude":
		return DegreesText(p[1])
	}
	return ""
}

// DegreesText writes a coordinate with as many decimals as it has, seven at most.
func DegreesText(v float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.7f", v), "0"), ".")
}
