package column

import (
	"slices"
	"strings"
)

// amountWords are the units of a product's amount found in names of columns [C]. They are
// recognised and never converted.
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

// AmountUnit returns the unit of the plain numbers of a field that are carried as written: the
// unit in the settings, else the one in the name of a column that the settings name; blank for
// none.
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
