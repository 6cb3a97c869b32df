// Package format makes a stream of generic features of a document: each a shape and
// columns of texts, with no word of what they mean. It has what formats share; each
// format is a package below it, and detect lists them. Of a file of which nothing can
// be made it says why, in an UnusableError; lesser trouble is a finding.
package format

// Format is one way in which a layer is written down. It knows features, which are
// shapes and columns of texts, and nothing of what they mean.
type Format interface {
	Traits() Traits
	// Is says whether a document is in the format, by its first bytes or characters;
	// what it looks at stays unread.
	Is(r *Reading, d *Document) bool
	// Read gives every feature to take, in the order of the file; an error of take
	// ends the reading.
	Read(r *Reading, d *Document, take func(*Feature) error) error
}
