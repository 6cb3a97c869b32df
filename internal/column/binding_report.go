package column

import "strings"

// unitsByName returns the columns that the settings name without a unit and whose names end in one.
func (b *binding) unitsByName() []claim {
	var out []claim
	for _, claims := range b.columns {
		for _, c := range claims {
			if c.unit != "" {
				out = append(out, c)
			}
		}
	}
	return out
}

// lost returns, in order, the fields for which the settings name columns but the file has neither those
// nor a column with one of our names.
func (b *binding) lost() []string {
	var out []string
	for i, f := range b.fields {
		if names := b.mapped[f.Name]; strings.Join(names, "") != "" && !b.Has(i) {
			out = append(out, f.Name)
		}
	}
	return out
}

// Reports returns the columns that were read as fields, in the order of fields.
func (b *binding) Reports() []Report {
	var out []Report
	for i, f := range b.fields {
		for _, c := range b.columns[i] {
			out = append(out, Report{f.Name, c.name})
		}
		for _, u := range b.adopted {
			if u.Field == f.Name {
				out = append(out, u)
			}
		}
	}
	return out
}
