package column

// Proposal is a mapping that would make a carried column one of our fields.
type Proposal struct {
	Field  string
	Column string
	Unit   string // of its numbers, where its name gives another unit than ours
}

// Recognised is a field with the names of columns for it in other people's data.
type Recognised struct {
	field   string
	content Content
	names   []string // letters and digits only, small; without units
}

// Elsewhere returns the names of a field's columns in other people's data, in small letters
// and digits only and without units, and their content.
func Elsewhere(field string, content Content, names ...string) Recognised {
	return Recognised{field, content, names}
}
