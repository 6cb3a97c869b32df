package main

import (
	"fmt"
	"strings"
	"testing"

	"driftreach/internal/batch"
	"driftreach/internal/intake"
	"driftreach/internal/settings"
)

// generated returns the pages of the reference that the program makes, by file name.
func generated() map[string]string {
	page := func(title, words, table string) string {
		return "<!-- made by the program, checked by a test -->\n\n# " + title + "\n\n" + words + "\n\n" + table
	}
	return map[string]string{
		"inputs.md": page("Columns of the input files", "Each kind of input with our names of its columns. `[columns.NAME]` and `[units.NAME]` in a settings file are\n"+
			"called as the flag is. `driftreach inputs` prints them too.", inputPage()),
		"settings.md": page("Settings", "Origins: [P] a published source, [C] common practice of the trade, [A] assumed by us. `driftreach settings` prints\n"+
			"them as a file to start from.", settingPage()),
		"findings.md": page("Findings", "An error means that the record was left out. A warning means that something was assumed or repaired. A note changes no figure.\n"+
			"`driftreach findings` prints them too.", findingPage()),
		"fields.md": page("Fields of the output files", "Every file is made from this dictionary, so its columns and properties are the same everywhere. The last two tables\n"+
			"are those of `driftreach trend`. `driftreach fields` prints them too, and every batch has its own in `fields.csv`.", fieldPage()),
	}
}

func inputPage() string {
	var b strings.Builder
	b.WriteString("| flag | what | columns | of these in a unit of its own, or dates in an order, with `[units.NAME]` | words mapped with `[values.COLUMN]` |\n|---|---|---|---|---|\n")
	for _, r := range intake.Roles() {
		flag := "`--" + r.Name + "`"
		if r.Many {
			flag += ", repeatable"
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", flag, r.Is, asCode(r.Fields()), asCode(r.InUnits()), asCode(r.Worded()))
	}
	return b.String()
}

// asCode lists names as code.
func asCode(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return "`" + strings.Join(names, "`, `") + "`"
}

func settingPage() string {
	var b strings.Builder
	b.WriteString("| setting | default | unit | range | origin | meaning | source |\n|---|---|---|---|---|---|---|\n")
	s := settings.Default()
	for _, one := range settings.Table() {
		fmt.Fprintf(&b, "| `%s` | `%s` | %s | %s | %s | %s | %s |\n", one.Key, one.Value(&s), one.Unit, one.Range(), one.Origin, one.Meaning, one.Source)
	}
	return b.String()
}

func findingPage() string {
	var b strings.Builder
	b.WriteString("| code | severity | what you can do |\n|---|---|---|\n")
	for _, r := range batch.Rules() {
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", r.Code, r.Severity, r.Remedy)
	}
	return b.String()
}

func fieldPage() string {
	var b strings.Builder
	cell := strings.NewReplacer("|", `\|`).Replace
	for i, t := range everyTable() {
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "## %s\n\n%s.\n\n| field | unit | type | meaning | origin |\n|---|---|---|---|---|\n", t.Name, t.Title)
		for _, f := range t.Fields {
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", f.Name, f.Unit, f.Kind, cell(f.Definition), cell(f.Origin))
		}
	}
	return b.String()
}

// No text in the generated tables breaks out of its cell.
func TestReferenceTablesKeepTheirCells(t *testing.T) {
	for name, text := range generated() {
		cells := 0
		for line := range strings.Lines(text) {
			switch n := strings.Count(strings.ReplaceAll(line, `\|`, ""), "|"); {
			case strings.HasPrefix(line, "|---"):
				cells = n
			case strings.HasPrefix(line, "| `") && n != cells:
				t.Errorf("%s: %d cells, not %d: %s", name, n-1, cells-1, line)
			}
		}
	}
}
