package column

import (
	"slices"
	"strings"
)

// amountWords are units of a product's amount that occur in column names [C]. They are recognised but
// never converted.
var amountWords = []string{
	"gal", "gallons", "gallon", "qt", "quarts", "pt", "pints", "fl oz", "floz", "oz", "ounces", "l", "liters", "litres", "liter", "litre", "ml",
	"lb", "lbs", "pounds", "kg", "g", "grams",
}

// amountUnitOf returns the unit in the name of a column of amounts, such as "Gallons used" or
// "amount_gal", in lower case; blank for none.
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

// AmountUnit returns the unit of a field whose numbers are carried as written. It is the unit in the
// settings or, if there is none, the unit in the column name that the settings give; blank for none.
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
