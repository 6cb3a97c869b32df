package field

import (
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strconv"
	"testing"
	"unicode"
)

// constants are the names of a file's constants with their texts, as written.
func constants(t *testing.T, file string) (names, texts []string) {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if v, is := n.(*ast.ValueSpec); is && len(v.Values) == 1 {
			if text, is := v.Values[0].(*ast.BasicLit); is {
				s, err := strconv.Unquote(text.Value)
				if err != nil {
					t.Fatal(err)
				}
				names, texts = append(names, v.Names[0].Name), append(texts, s)
			}
		}
		return true
	})
	return names, texts
}

// Every field has one name, no two fields the same, in letters, digits and low lines, as columns of
// tables and databases may have. The list is in the order of the alphabet, so that a field is found.
func TestNamesOfFields(t *testing.T) {
	names, texts := constants(t, "names.go")
	if len(names) < 190 || !slices.IsSorted(names) {
		t.Errorf("%d names, sorted %v", len(names), slices.IsSorted(names))
	}
	seen := map[string]string{}
	for i, text := range texts {
		if other, twice := seen[text]; twice {
			t.Errorf("%s and %s are both %q", other, names[i], text)
		}
		seen[text] = names[i]
		for _, r := range text {
			if r != '_' && !(r < 0x80 && (unicode.IsLetter(r) || unicode.IsDigit(r))) {
				t.Errorf("%s is %q", names[i], text)
			}
		}
	}
	// the terms that another standard defines are written as there (Darwin Core quick reference guide)
	for _, term := range []string{"coordinateUncertaintyInMeters", "decimalLatitude", "decimalLongitude", "eventDate", "occurrenceID", "occurrenceRemarks", "occurrenceStatus", "recordedBy", "waterBody"} {
		if seen[term] == "" {
			t.Errorf("%s is no field", term)
		}
	}
}

// The rows of a summary by stream and by unit are of different scopes, and each scope is in one list.
func TestScopes(t *testing.T) {
	seen := map[RowScope]bool{ScopeTotal: true}
	for _, scope := range slices.Concat(ByStream, ByUnit) {
		if seen[scope] || scope == "" {
			t.Errorf("%q is in two lists", scope)
		}
		seen[scope] = true
	}
	names, texts := constants(t, "words.go")
	for i, text := range texts {
		if len(names[i]) > 5 && names[i][:5] == "Scope" && !seen[RowScope(text)] {
			t.Errorf("%s is in no list", names[i])
		}
	}
}
