package intake

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/cell"
)

// positionRemedy says how to map the position, and names the columns that look like one. A column that
// holds both numbers, as in "-35.38, -70.88", cannot be mapped: it has to be split.
func (p *pointReader) positionRemedy() string {
	remedy := "name the columns decimalLongitude and decimalLatitude, or map them under [columns.points]"
	var found []string
	for _, proposal := range p.columns.Proposals() {
		if strings.HasPrefix(proposal.Field, "decimal") {
			found = append(found, fmt.Sprintf("%s = %q", proposal.Field, proposal.Column))
		}
	}
	// in German these words also mean the length and the width of a patch, so they are not proposed elsewhere
	lon, lat := p.columns.Named("lange", "laenge"), p.columns.Named("breite")
	switch both := p.columnOfBoth(); {
	case len(found) > 0:
		return remedy + ", perhaps " + strings.Join(found, " and ")
	case lon != "" && lat != "":
		return remedy + fmt.Sprintf(", perhaps decimalLongitude = %q and decimalLatitude = %q", lon, lat)
	case both != "":
		return fmt.Sprintf("split the column %q, which holds two numbers, into decimalLatitude and decimalLongitude", both)
	}
	return remedy
}

// columnOfBoth returns the first column whose texts are all two numbers that can be degrees; blank for
// none.
func (p *pointReader) columnOfBoth() string {
	for i, name := range p.columns.Names() {
		texts := p.columns.Texts(i)
		if len(texts) > 0 && !slices.ContainsFunc(texts, func(text string) bool { return !isTwoDegrees(text) }) {
			return name
		}
	}
	return ""
}

// isTwoDegrees says whether a text is two numbers from -180 to 180 with decimals, apart by a comma, a
// semicolon or blanks.
func isTwoDegrees(text string) bool {
	parts := strings.FieldsFunc(strings.Trim(text, "()[] "), func(r rune) bool { return strings.ContainsRune(",; \t", r) })
	if len(parts) != 2 {
		return false
	}
	return !slices.ContainsFunc(parts, func(part string) bool {
		v, kind := cell.ParseNumber([]byte(part), false)
		return kind != cell.GoodNumber || v < -180 || v > 180 || !strings.Contains(part, ".")
	})
}
