package mapfile

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"driftreach/internal/folder"
)

// Format is the number of the form in which batches, demos and trends are written
// now. It goes up when a reader of the form before would be wrong about a file, or
// could not read it.
//
//	1  carried no number: no looked-at ground, acres as printed, "treated_acres" in summaries
//	2  the number is in the manifest
//	3  properties that hold nothing are left out, layers of many records are packed, a
//	   quarter stands once for the parts of a bank that were looked at in it
const Format = 3

// FormatVersion is the version of the files' formats as users of them count it: the first
// number goes up when a file, a column or a property goes, or means something else, and a
// reader must be changed; the second when one comes in beside the others. Format goes up
// with the first.
const FormatVersion = "2.0"

// KnownVersion says whether this program knows what the files of a version mean: those
// whose first number is that of FormatVersion or one before it, and folders of before it
// was named.
func KnownVersion(v string) bool {
	own, _, _ := strings.Cut(FormatVersion, ".")
	first, second, two := strings.Cut(v, ".")
	_, err := strconv.ParseUint(second, 10, 16)
	number, wrong := strconv.ParseUint(first, 10, 16)
	newest, _ := strconv.ParseUint(own, 10, 16)
	return v == "" || two && err == nil && wrong == nil && number >= 1 && number <= newest
}

// Maker is who wrote a manifest, and in which form.
type Maker struct {
	Program string
	Version string
	Format  int // 1 for manifests of before they carried a number
}

// Errors of ReadMaker.
var (
	ErrUnreadable = errors.New(folder.ManifestName + " cannot be read")
	ErrForeign    = errors.New(folder.ManifestName + " is of another program")
	ErrNoFormat   = errors.New(folder.ManifestName + " names no format: a whole number above 0")
)

// NewerFormatError is a folder that a later version wrote, in a form that this one
// does not know.
type NewerFormatError struct{ Maker }

// Error says which form it is, and which are known.
func (e *NewerFormatError) Error() string {
	return fmt.Sprintf("it is of format %d, by driftreach %s, and this version reads formats 1 to %d", e.Format, e.Version, Format)
}

// Hint says what reads it.
func (e *NewerFormatError) Hint() string {
	return "use the version of driftreach that made it, or a later one"
}

// ReadMaker returns who wrote the manifest that text is. It looks at nothing else, so
// that a form which is not known is told by its number. The error is one of the three
// above or a *NewerFormatError.
func ReadMaker(text []byte) (Maker, error) {
	var head struct {
		Program string
		Version string
		Format  json.RawMessage
	}
	if json.Unmarshal(text, &head) != nil {
		return Maker{}, ErrUnreadable
	}
	m := Maker{head.Program, head.Version, 1}
	if m.Program != folder.Program {
		return m, ErrForeign
	}
	if head.Format != nil && (json.Unmarshal(head.Format, &m.Format) != nil || m.Format < 1) {
		return m, ErrNoFormat
	}
	if m.Format > Format {
		return m, &NewerFormatError{m}
	}
	return m, nil
}
