package mapfile

import (
	"maps"
	"slices"

	"driftreach/internal/intake"
)

// clockGlob matches a time of day such as 08:30.
const clockGlob = "[0-2][0-9]:[0-5][0-9]"

// constraintOf returns the name of the constraint on a column of a form; nil for none. A constraint
// that is the same in every layer has one name: that of the column, or the one for times of day.
func constraintOf(form []intake.Blank, column string) any {
	i := slices.IndexFunc(form, func(b intake.Blank) bool { return b.Name == column })
	switch {
	case i < 0:
		return nil
	case form[i].Clock:
		return "time_of_day"
	case form[i].Words != nil || form[i].Range.Known:
		return lower(column)
	}
	return nil
}

// lower returns a name in lower case, as required for constraints (12-128r18, annex F.9, table 60).
func lower(name string) string {
	b := []byte(name)
	for i, c := range b {
		if c >= 'A' && c <= 'Z' {
			b[i] = c - 'A' + 'a'
		}
	}
	return string(b)
}

// constrain writes what the columns of the forms may contain: lists of words, ranges of numbers, and a
// pattern for times.
func (p *database) constrain() error {
	written := map[any]bool{}
	add := func(values ...any) error {
		_, err := p.tx.Exec(`INSERT INTO gpkg_data_column_constraints VALUES (?, ?, ?, ?, ?, ?, ?, ?)`, values...)
		return err
	}
	for _, layer := range slices.Sorted(maps.Keys(p.forms)) {
		for _, b := range p.forms[layer] {
			name := constraintOf(p.forms[layer], b.Name)
			if name == nil || written[name] {
				continue
			}
			written[name] = true
			switch {
			case b.Clock:
				if err := add(name, "glob", clockGlob, nil, nil, nil, nil, "a time of day, as in 08:30"); err != nil {
					return err
				}
			case b.Range.Known:
				if err := add(name, "range", nil, b.Range.Low, !b.Range.OpenLow, b.Range.High, true, "what "+b.Name+" may be"); err != nil {
					return err
				}
			}
			for _, word := range b.Words {
				if err := add(name, "enum", word, nil, nil, nil, nil, word); err != nil {
					return err
				}
			}
		}
	}
	return nil
}
