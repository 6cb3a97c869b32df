package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"driftreach/internal/batch"
	"driftreach/internal/intake"
)

// maxWords is how many words of a column are printed. Our choice: more are not
// read.
const maxWords = 30

// writeWordCounts prints every word of the columns of words, how often it comes,
// and what it was read as.
func writeWordCounts(w io.Writer, words []intake.WordCount) {
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

// writeProposed prints the settings that would map what was recognised in
// columns and words that were not understood.
func writeProposed(w io.Writer, observed batch.Observed) {
	tables := proposals{}
	for i, file := range observed.Understood {
		role := observed.Files[i].Role
		for _, p := range file.Proposals {
			tables.add("columns."+role, p.Field, p.Column)
			if p.Unit != "" {
				tables.add("units."+role, p.Field, p.Unit)
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

// proposals are tables of settings in the order met.
type proposals struct {
	names []string
	lines map[string][]string
	keys  []string
}

func (p *proposals) add(table, key, value string) {
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
	if !strings.HasPrefix(table, "values.") {
		p.lines[table] = append(p.lines[table], fmt.Sprintf("%s = %s", key, batch.QuoteTOML(value)))
		return
	}
	p.lines[table] = append(p.lines[table], fmt.Sprintf("%s = %s", batch.QuoteTOML(key), batch.QuoteTOML(value)))
}
