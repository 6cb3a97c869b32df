package settings

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"driftreach/internal/column"
	"driftreach/internal/intake"
	"driftreach/internal/survey"
)

// InputSettings is the [inputs] table: the files of every quarter and where its
// batch goes, so that a quarter needs its name alone. Paths count from the folder of
// the settings file. Keys are the names of roles, those with SystemKey for their
// reference systems, Previous and Out.
type InputSettings map[string]column.Names

// Keys that are no role's.
const (
	PreviousKey = "previous" // the folder of the batch before
	OutKey      = "out"      // the folder to make
)

// SystemKey is the key of the reference system of a role.
func SystemKey(role string) string { return role + "_crs" }

// inputKey is one key of the table, and whether it takes several names.
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

// lines are the keys that are set, as a settings file has them.
func (s InputSettings) lines() []string {
	var out []string
	for _, k := range inputKeys() {
		if names := s[k.name]; k.many && len(names) > 0 || s.One(k.name) != "" {
			out = append(out, k.name+" = "+QuoteNames(names))
		}
	}
	return out
}

// WriteInputs writes a settings file of the table alone.
func WriteInputs(w io.Writer, s InputSettings) error {
	_, err := fmt.Fprintf(w, "# One quarter: driftreach batch --settings FILE --quarter 2026Q3. Paths count from\n"+
		"# this file; %s and %s are the batch's quarter and the one before.\n[inputs]\n%s\n",
		quarterMark, previousMark, strings.Join(s.lines(), "\n"))
	return err
}

// The placeholders for the batch's quarter and the one before it.
const (
	quarterMark  = "{quarter}"
	previousMark = "{previous_quarter}"
)

// check returns what is wrong with the table.
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

// FillQuarter returns a name of the table with the quarters in place of the marks;
// false where it has marks and there is no quarter.
func FillQuarter(name string, q survey.Quarter) (string, bool) {
	if q.IsZero() {
		return name, !strings.Contains(name, quarterMark) && !strings.Contains(name, previousMark)
	}
	return strings.NewReplacer(quarterMark, q.String(), previousMark, q.Previous().String()).Replace(name), true
}
