package intake

// format is one way in which a layer is written down. It knows features, which are
// shapes and columns of texts, and nothing of what they mean.
type format interface {
	Traits() traits
	// Is says whether a document is in the format, by its first bytes or characters;
	// what it looks at stays unread.
	Is(r *reading, d *document) bool
	// Read gives every feature to take, in the order of the file; an error of take
	// ends the reading.
	Read(r *reading, d *document, take func(*feature) error) error
}

// traits are what a format is called and what may be expected of it.
type traits struct {
	name        string
	text        bool // it is read from end to end as text
	rows        bool // it is rows and columns, with no geometry but that of a column
	longestName int  // letters of a column's name; 0 for any number
}
