package column

// Proposal is a mapping that would make a carried column one of our fields.
type Proposal struct {
	Field  string
	Column string
	Unit   string // of its numbers, where its name tells another than ours
}

// Recognised is a field with the names that columns for it have elsewhere.
type Recognised struct {
	field   string
	content Content
	names   []string // letters and digits only, small; without units
}

// Elsewhere says what columns for a field are called elsewhere, in letters and digits
// only, small, without units, and what they hold.
func Elsewhere(field string, content Content, names ...string) Recognised {
	return Recognised{field, content, names}
}
