// Package format defines how a document is read as a stream of features: shapes with text columns,
// whose meaning it does not know. It has the code that the formats share; each format is a package
// below it, and detect lists them. A file that cannot be used ends in an UnusableError; smaller
// problems become findings.
package format

// Format is one file format. It delivers features, which are shapes with text columns, and knows
// nothing of their meaning.
type Format interface {
	Traits() Traits
	// Is says whether a document is in the format, by its first bytes or characters. It consumes
	// nothing.
	Is(r *Reading, d *Document) bool
	// Read passes every feature to take, in the order of the file. An error from take ends the reading.
	Read(r *Reading, d *Document, take func(*Feature) error) error
}
