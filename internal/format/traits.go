package format

// Traits are the name of a format and what a reader can expect of it.
type Traits struct {
	Name        string
	Text        bool // read as text from start to end
	Rows        bool // a table, with no geometry except in a column
	LongestName int  // the longest column name, in letters; 0 for no limit
}
