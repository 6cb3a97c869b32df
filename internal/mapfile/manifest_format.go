package mapfile

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"driftreach/internal/folder"
)

// Format is the number of the present form of batches, demos and trends. It goes up when a program that
// reads the previous form would misunderstand a file or could not read it.
//
//	1  carried no number: no looked-at ground, acres as printed, "treated_acres" in summaries
//	2  the number is in the manifest
//	3  properties without a value are left out; layers of many records are packed; a quarter is
//	   written once for all parts of a bank that were last surveyed in it
const Format = 3

// FormatVersion is the version of the file formats for their users. The first number goes up when a
// file, a column or a property is removed or changes its meaning, so that programs that read it must be
// changed. The second goes up when something is added. Format goes up together with the first number.
const FormatVersion = "2.0"

// KnownVersion says whether this program understands the files of a version: its first number is that
// of FormatVersion or the one before it, or the folder is from before versions were named.
func KnownVersion(v string) bool {
	own, _, _ := strings.Cut(FormatVersion, ".")
	first, second, two := strings.Cut(v, ".")
	_, err := strconv.ParseUint(second, 10, 16)
	number, wrong := strconv.ParseUint(first, 10, 16)
	newest, _ := strconv.ParseUint(own, 10, 16)
	return v == "" || two && err == nil && wrong == nil && number >= 1 && number <= newest
}

// Maker is the program that wrote a manifest, and the form it wrote.
type Maker struct {
	Program string
	Version string
	Format  int // 1 for manifests from before the number was written
}

// Errors returned by ReadMaker.
var (
	ErrUnreadable = errors.New(folder.ManifestName + " cannot be read")
	ErrForeign    = errors.New(folder.ManifestName + " is of another program")
	ErrNoFormat   = errors.New(folder.ManifestName + " names no format: a whole number above 0")
)

// NewerFormatError is a folder written by a later version in a form that this version does not know.
type NewerFormatError struct{ Maker }

// Error says which form it is, and which forms are known.
func (e *NewerFormatError) Error() string {
	return fmt.Sprintf("it is of format %d, by driftreach %s, and this version reads formats 1 to %d", e.Format, e.Version, Format)
}

// Hint says what can read it.
func (e *NewerFormatError) Hint() string {
	return "use the version of driftreach that made it, or a later one"
}

// ReadMaker returns the program that wrote a manifest, given its text. It reads nothing else, so that
// an unknown form is reported by its number. The error is one of the three above or a
// *NewerFormatError.
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
