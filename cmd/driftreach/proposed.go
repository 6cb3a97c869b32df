package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"driftreach/internal/column"
	"driftreach/internal/intake"
	"driftreach/internal/observed"
	"driftreach/internal/settings"
)

// maxWords is how many words of a column are printed. Our choice: nobody reads more.
const maxWords = 30

// writeWordCounts prints every word in the columns of words, with its count and what it was read as.
func writeWordCounts(w io.Writer, words []column.WordCount) {
	if len(words) == 0 {
		return
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprint(t, "  field\tword\ttimes\tread as\n")
	printed := map[string]int{}
	for _, c := range words {
		if printed[c.Field]++; printed[c.Field] > maxWords {
			continue
		}
		meaning := c.Meaning
		if meaning == "" {
			meaning = "(not understood)"
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\n", c.Field, shown(c.Word), count(c.Count), shown(meaning))
	}
	t.Flush()
	fmt.Fprintln(w)
}

// writeProposed prints the settings that would map recognised columns, and words that were not
// understood.
func writeProposed(w io.Writer, observed observed.Quarter) {
	tables := proposals{}
	for i, file := range observed.ColumnReports {
		role := observed.Files[i].Role
		columns, units := "columns."+role, "units."+role
		if !oneForAll(observed, role) {
			table := "files." + settings.QuoteTOML(patternOf(file.Name, observed))
			columns, units = table+".columns", table+".units"
		}
		if file.Skip > 0 {
			tables.put("files."+settings.QuoteTOML(patternOf(file.Name, observed)), "skip_lines", fmt.Sprint(file.Skip))
		}
		for _, p := range file.Proposals {
			tables.put(columns, p.Field, settings.QuoteTOML(p.Column)+bareUnit(p, role))
			if p.Unit != "" {
				tables.add(units, p.Field, p.Unit)
			}
		}
		for _, c := range slices.Concat(file.Words, file.ProposedWords) {
			if ours := intake.ProposedWord(c.Field, c.Word); c.Meaning == "" && ours != "" {
				tables.add("values."+c.Field, c.Word, ours)
			}
		}
	}
	if len(tables.names) == 0 {
		return
	}
	fmt.Fprint(w, "proposed settings, for columns and words recognised by name and content; look them over:\n")
	for _, name := range tables.names {
		fmt.Fprintf(w, "\n  [%s]\n", name)
		for _, line := range tables.lines[name] {
			fmt.Fprintf(w, "  %s\n", line)
		}
	}
	fmt.Fprintln(w)
}

// oneForAll says whether one table can hold the proposals for all files of an input: every proposal of
// a file is also one of every other file, or that file has our column for it.
func oneForAll(observed observed.Quarter, role string) bool {
	var files []intake.File
	for i, file := range observed.ColumnReports {
		if observed.Files[i].Role == role {
			files = append(files, file)
		}
	}
	for _, file := range files {
		for _, p := range file.Proposals {
			for _, other := range files {
				if !slices.Contains(other.Proposals, p) && !slices.ContainsFunc(other.Columns, func(u column.Report) bool { return u.Field == p.Field && u.Column != p.Column }) {
					return false
				}
			}
		}
	}
	return true
}

// patternOf returns the file name pattern for a file's settings: its name, with * for the quarter, so
// that the next quarter's file is read in the same way.
func patternOf(name string, observed observed.Quarter) string {
	base := strings.NewReplacer(`\`, `\\`, "*", `\*`, "?", `\?`, "[", `\[`).Replace(filepath.Base(name))
	if q := observed.Quarter; !q.IsZero() {
		base = strings.ReplaceAll(base, q.String(), "*")
	}
	return base
}

// bareUnit says in which unit the numbers of a column are read if its name gives none.
func bareUnit(p column.Proposal, role string) string {
	unit, measured := intake.HasUnit(p.Field)
	if !measured || p.Unit != "" || intake.UnitSaid(p.Field, p.Column) {
		return ""
	}
	return " # in " + unit + ", unless [units." + role + "] says another"
}

// proposals are tables of settings, in order of first use.
type proposals struct {
	names []string
	lines map[string][]string
	keys  []string
}

// add adds a line with a text value.
func (p *proposals) add(table, key, value string) {
	if strings.Contains(table, "values.") {
		key = settings.QuoteTOML(key)
	}
	p.put(table, key, settings.QuoteTOML(value))
}

// put adds a line, unless the table already has the key.
func (p *proposals) put(table, key, value string) {
	if p.lines == nil {
		p.lines = map[string][]string{}
	}
	if slices.Contains(p.keys, table+"."+key) {
		return
	}
	p.keys = append(p.keys, table+"."+key)
	if !slices.Contains(p.names, table) {
		p.names = append(p.names, table)
	}
	p.lines[table] = append(p.lines[table], key+" = "+value)
}
