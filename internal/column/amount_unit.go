package column

import (
	"slices"
	"strings"
)

// amountWords are units of a product's amount that columns are named with [C]. They
// are told apart and never converted.
var amountWords = []string{
	"gal", "gallons", "gallon", "qt", "quarts", "pt", "pints", "fl oz", "floz", "oz", "ounces", "l", "liters", "litres", "liter", "litre", "ml",
	"lb", "lbs", "pounds", "kg", "g", "grams",
}

// amountUnitOf returns the unit in the name of a column of amounts, as in "Gallons
// used" and "amount_gal", in small letters; blank for none.
func amountUnitOf(column string) string {
	words := spacedWords(column)
	for n := min(2, len(words)); n > 0; n-- {
		for i := len(words) - n; i >= 0; i-- {
			if unit := strings.Join(words[i:i+n], " "); slices.Contains(amountWords, unit) {
				return unit
			}
		}
	}
	return ""
}

// AmountUnit is the unit of plain numbers of a field that are carried as they are
// written: that of the settings, else the one in the name of a column that the settings
// name; blank for none.
func (m Mapping) AmountUnit(field string) string {
	if unit := m.unit(field); unit != "" {
		return strings.TrimSpace(unit)
	}
	names, _ := m.names(field)
	for _, name := range names {
		if unit := amountUnitOf(name); unit != "" {
			return unit
		}
	}
	return ""
}
