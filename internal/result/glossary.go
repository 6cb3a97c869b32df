package result

import (
	"fmt"
	"io"
	"strings"

	"driftreach/internal/plan"
	"driftreach/internal/unit"
)

// complete is a run with every field there can be: with draws, both stages,
// reporting units and control work.
var complete = Run{Draws: 1, Stages: make([]Stage, 2), Units: make([]unit.Unit, 1), WorkGiven: true, Plan: &plan.Plan{}}

// AllTables returns every table that a batch can have, with every field and no rows,
// the dictionary last.
func AllTables() []Table {
	tables := Tables(&complete)
	return append(tables, Dictionary(nil))
}

// WriteGlossary writes the data dictionary as Markdown, a table an output.
func WriteGlossary(w io.Writer) error { return WriteTables(w, AllTables()) }

// WriteTables writes the fields of tables as Markdown, a table each.
func WriteTables(w io.Writer, tables []Table) error {
	var b strings.Builder
	for i, t := range tables {
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "### %s\n\n%s.\n\n| field | unit | type | meaning | origin |\n|---|---|---|---|---|\n", t.Name, t.Title)
		for _, f := range t.Fields {
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", f.Name, f.Unit, f.Kind, cell(f.Definition), cell(f.Origin))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// cell returns text that stays inside a Markdown table's cell.
func cell(s string) string { return strings.ReplaceAll(s, "|", `\|`) }

// String returns the kind in words.
func (k Kind) String() string {
	switch k {
	case Text:
		return "text"
	case Flag:
		return "true or false"
	case Count:
		return "whole number"
	case Number:
		return "number"
	case Date:
		return "date"
	case List:
		return "list"
	}
	return "blank"
}
