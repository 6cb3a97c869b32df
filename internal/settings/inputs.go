package settings

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"driftreach/internal/column"
	"driftreach/internal/intake"
	"driftreach/internal/survey"
)

// InputSettings is the [inputs] table: the files of every quarter and the output folder, so that a user
// needs to name only the quarter. Paths are relative to the folder of the settings file. Keys are the
// names of roles, those names with SystemKey for their reference systems, Previous and Out.
type InputSettings map[string]column.Names

// Keys that are not roles.
const (
	PreviousKey = "previous" // folder of the previous batch
	OutKey      = "out"      // folder to write
)

// SystemKey is the key of the reference system of a role.
func SystemKey(role string) string { return role + "_crs" }

// inputKey is one key of the table; many says that it takes several names.
type inputKey struct {
	name string
	many bool
}

// inputKeys returns the keys in the order of the settings file.
func inputKeys() []inputKey {
	var files, systems []inputKey
	for _, role := range intake.Roles() {
		files = append(files, inputKey{role.Name, role.Many})
		if role.System != "" {
			systems = append(systems, inputKey{SystemKey(role.Name), false})
		}
	}
	return slices.Concat(files, systems, []inputKey{{PreviousKey, false}, {OutKey, false}})
}

// One returns the single name of a key; blank for none.
func (s InputSettings) One(key string) string {
	if len(s[key]) == 0 {
		return ""
	}
	return s[key][0]
}

// lines returns the keys that are set, as lines of a settings file.
func (s InputSettings) lines() []string {
	var out []string
	for _, k := range inputKeys() {
		if names := s[k.name]; k.many && len(names) > 0 || s.One(k.name) != "" {
			out = append(out, k.name+" = "+quoteNames(names))
		}
	}
	return out
}

// WriteInputs writes a settings file with this table only.
func WriteInputs(w io.Writer, s InputSettings) error {
	_, err := fmt.Fprintf(w, "# One quarter: driftreach batch --settings FILE --quarter 2026Q3. Paths count from\n"+
		"# this file; %s and %s are the batch's quarter and the one before.\n[inputs]\n%s\n",
		quarterMark, previousMark, strings.Join(s.lines(), "\n"))
	return err
}

// The placeholders for the batch's quarter and the previous one.
const (
	quarterMark  = "{quarter}"
	previousMark = "{previous_quarter}"
)

// check checks the table.
func (s InputSettings) check(where string) error {
	for _, k := range inputKeys() {
		names := s[k.name]
		switch {
		case k.many:
		case len(names) > 1:
			return &Error{Where: where, Problem: fmt.Sprintf("inputs.%s names %d files, and one is taken", k.name, len(names)), Remedy: "name one file"}
		case s.One(k.name) == "":
			continue
		}
		for _, name := range names {
			if strings.ContainsFunc(name, unicode.IsControl) {
				return &Error{Where: where, Problem: fmt.Sprintf("inputs.%s cannot be %q", k.name, name), Remedy: backslashRemedy}
			}
			rest := strings.NewReplacer(quarterMark, "", previousMark, "").Replace(name)
			if i := strings.IndexByte(rest, '{'); i >= 0 || name == "" {
				return &Error{
					Where: where, Problem: fmt.Sprintf("inputs.%s cannot be %q", k.name, name),
					Remedy: "name a file; " + quarterMark + " and " + previousMark + " stand for the quarters, * and ? for letters of a name",
				}
			}
		}
	}
	return nil
}

// FillQuarter returns a name of the table with its placeholders replaced by quarters; false if it has
// placeholders and q is zero.
func FillQuarter(name string, q survey.Quarter) (string, bool) {
	if q.IsZero() {
		return name, !strings.Contains(name, quarterMark) && !strings.Contains(name, previousMark)
	}
	return strings.NewReplacer(quarterMark, q.String(), previousMark, q.Previous().String()).Replace(name), true
}
