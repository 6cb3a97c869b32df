package format

// Traits are what a format is called and what may be expected of it.
type Traits struct {
	Name        string
	Text        bool // it is read from end to end as text
	Rows        bool // it is rows and columns, with no geometry but that of a column
	LongestName int  // letters of a column's name; 0 for any number
}
