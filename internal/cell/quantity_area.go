package cell

import "strings"

// lengthTimesWidth reads "34 x 20 ft", "34 ft by 20 ft" and 34' × 20' in square metres. A number
// without a unit takes that of the other; without any unit the text is not read.
func lengthTimesWidth(s string, point, comma bool) (squareMeters float64, ok bool) {
	for _, mark := range []string{"x", "×", "*", " by "} {
		one, other, found := strings.Cut(s, mark)
		if !found {
			continue
		}
		length, unit, ok1 := side(one, point, comma)
		width, second, ok2 := side(other, point, comma)
		if unit.Of == 0 {
			unit = second
		}
		if second.Of == 0 {
			second = unit
		}
		return length * unit.Size * width * second.Size, ok1 && ok2 && unit.Of == aLength && second.Of == aLength
	}
	return 0, false
}

// side reads one side of an area, with its unit, or the zero Unit where it has none.
func side(s string, point, comma bool) (value float64, unit Unit, ok bool) {
	s = strings.TrimSpace(s)
	if v, ok := feetAndInches(s); ok {
		return v, unitWords["ft"], true
	}
	number, rest := cutNumber(s)
	if value, ok = parseWritten(number, point, comma); !ok {
		return 0, unit, false
	}
	word := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(rest), "."))
	if word == "" {
		return value, unit, true
	}
	unit, ok = FindUnit(word)
	return value, unit, ok
}
