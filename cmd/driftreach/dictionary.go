package main

import (
	"bufio"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"driftreach/internal/batch"
	"driftreach/internal/check"
	"driftreach/internal/intake"
	"driftreach/internal/learn"
	"driftreach/internal/mapfile"
	"driftreach/internal/report"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/trend"
)

func (p *program) fieldsCommand() *command {
	flags := pflag.NewFlagSet("fields", pflag.ContinueOnError)
	asTable := flags.Bool("csv", false, "print a table for a spreadsheet instead")
	return &command{
		name: "fields", line: "print every field of the output files with unit and meaning", usage: "[--csv] [WORD]...",
		text: `Prints the data dictionary: every field of every output file with its unit, its
meaning, and where the rule or figure comes from ([P] published, [C] common
practice, [A] assumed). A word is the name of a field, or of a file, or
a part of either. Every batch has the same in fields.csv.`,
		example: "driftreach fields infested_acres",
		flags:   flags,
		run: func(words []string) error {
			tables := naming(everyTable(), withoutEnding(words))
			if len(tables) == 0 {
				return &usageError{"no field or file is called " + strings.Join(words, " or "), "`driftreach fields` without a word prints all"}
			}
			if *asTable {
				return mapfile.WriteTable(p.stdout, result.Dictionary(tables))
			}
			return printed(p.stdout, func(w io.Writer) {
				for i, t := range tables {
					printTable(w, t, i > 0, width(p.stdout))
				}
			})
		},
	}
}

// withoutEnding takes the endings of our files off the words, so that a file can be named as it is
// called.
func withoutEnding(words []string) []string {
	out := slices.Clone(words)
	for i, word := range out {
		switch ending := filepath.Ext(word); ending {
		case ".csv", ".geojson", ".zip":
			out[i] = strings.TrimSuffix(word, ending)
		}
	}
	return out
}

// everyTable returns the description of every table that a command writes.
func everyTable() []result.Table {
	return slices.Concat(result.AllTables(), report.Tables(&trend.History{}), learn.Tables(nil))
}

// naming returns the tables whose name contains one of the words; of the others it returns only the
// fields whose name does. Without words it returns all tables.
func naming(tables []result.Table, words []string) []result.Table {
	if len(words) == 0 {
		return tables
	}
	var out []result.Table
	for _, t := range tables {
		if !hasOne(t.Name, words) {
			var fields []result.Field
			for _, f := range t.Fields {
				if hasOne(f.Name, words) {
					fields = append(fields, f)
				}
			}
			t.Fields = fields
		}
		if len(t.Fields) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// hasOne says whether a name contains one of the words, ignoring case.
func hasOne(name string, words []string) bool {
	for _, word := range words {
		if strings.Contains(strings.ToLower(name), strings.ToLower(word)) {
			return true
		}
	}
	return false
}

func printTable(w io.Writer, t result.Table, apart bool, columns int) {
	if apart {
		fmt.Fprintln(w)
	}
	fmt.Fprintln(w, wrapped(t.Name+": "+t.Title+".", "", "", columns))
	for _, f := range t.Fields {
		kind := f.Kind.String()
		if f.Unit != result.NoUnit {
			kind += ", " + string(f.Unit)
		}
		text := f.Definition
		if f.Origin != "" {
			text += " Origin: " + f.Origin + "."
		}
		fmt.Fprintf(w, "  %s (%s)\n%s", f.Name, kind, indented(text, 6, columns))
	}
}

func (p *program) inputsCommand() *command {
	return &command{
		name: "inputs", line: "print the columns of every input file", usage: "[WORD]...",
		text: `Prints every kind of input with our names for its columns. It marks columns whose
unit or order of dates you can set ([units.NAME] in the settings), and those whose
words you can map ([values.COLUMN]). A word is the name of an input or a column, or
a part of one.`,
		example: "driftreach inputs treatments",
		flags:   pflag.NewFlagSet("inputs", pflag.ContinueOnError),
		run: func(words []string) error {
			var roles []intake.Role
			for _, r := range intake.Roles() {
				if len(words) == 0 || hasOne(r.Name, words) || slices.ContainsFunc(r.Fields(), func(f string) bool { return hasOne(f, words) }) {
					roles = append(roles, r)
				}
			}
			if len(roles) == 0 {
				return &usageError{"no input or column is called " + strings.Join(words, " or "), "`driftreach inputs` without a word prints all"}
			}
			return printed(p.stdout, func(w io.Writer) {
				for i, r := range roles {
					printRole(w, r, i > 0, width(p.stdout))
				}
			})
		},
	}
}

func printRole(w io.Writer, r intake.Role, apart bool, columns int) {
	if apart {
		fmt.Fprintln(w)
	}
	many := ""
	if r.Many {
		many = ", repeatable"
	}
	fmt.Fprintf(w, "--%s%s: %s\n%s", r.Name, many, r.Is, indented("Columns: "+strings.Join(r.Fields(), ", ")+".", 2, columns))
	if units := r.InUnits(); len(units) > 0 {
		fmt.Fprint(w, indented("In a unit or order of their own: "+strings.Join(units, ", ")+".", 2, columns))
	}
	if worded := r.Worded(); len(worded) > 0 {
		fmt.Fprint(w, indented("Words that can be mapped: "+strings.Join(worded, ", ")+".", 2, columns))
	}
}

func (p *program) findingsCommand() *command {
	return &command{
		name: "findings", line: "print every finding with what you can do about it", usage: "[WORD]...",
		text: `Prints the name of every finding about the input, how severe it is, and what you can
do. An error rejects the record, a warning assumes or repairs something, a note
changes no figure. A word is a name or a part of one.`,
		example: "driftreach findings date",
		flags:   pflag.NewFlagSet("findings", pflag.ContinueOnError),
		run: func(words []string) error {
			var rules []check.Rule
			var codes []string
			for _, r := range batch.Rules() {
				codes = append(codes, r.Code)
				if len(words) == 0 || hasOne(r.Code, words) {
					rules = append(rules, r)
				}
			}
			if len(rules) == 0 {
				remedy := "`driftreach findings` without a word prints all"
				if near := settings.Nearest(words[0], codes); near != "" {
					remedy = "did you mean " + near + "?"
				}
				return &usageError{"no finding is called " + strings.Join(words, " or "), remedy}
			}
			return printed(p.stdout, func(w io.Writer) {
				for _, r := range rules {
					fmt.Fprintf(w, "%s (%s)\n%s", r.Code, r.Severity, indented(r.Remedy, 4, width(p.stdout)))
				}
			})
		},
	}
}

// indented wraps a text and indents it by the given number of blanks.
func indented(text string, blanks, columns int) string {
	edge := strings.Repeat(" ", blanks)
	return edge + strings.ReplaceAll(wrapped(text, "", "", columns-blanks), "\n", "\n"+edge) + "\n"
}

// printed collects what print writes, writes it to w at once, and returns the error.
func printed(w io.Writer, print func(io.Writer)) error {
	to := bufio.NewWriter(w)
	print(to)
	return to.Flush()
}
