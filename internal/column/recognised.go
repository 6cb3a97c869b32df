package column

// Proposal is a mapping that would read a carried column as one of our fields.
type Proposal struct {
	Field  string
	Column string
	Unit   string // of its numbers, if the column name gives another unit than ours
}

// Recognised is a field with its usual column names in other people's data.
type Recognised struct {
	field   string
	content Content
	names   []string // letters and digits only, in lower case, without accents and units
}

// Elsewhere returns a field with its column names in other people's data, in lower case letters and
// digits, without accents and units, and with the content they must have.
func Elsewhere(field string, content Content, names ...string) Recognised {
	return Recognised{field, content, names}
}
