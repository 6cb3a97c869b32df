package settings

import (
	"bufio"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"driftreach/internal/column"
)

// Write writes s as a TOML file that Read reads back to s. A comment above each key gives its meaning,
// origin, range and source.
func Write(w io.Writer, s Settings) error {
	b := bufio.NewWriter(w)
	fmt.Fprintln(b, "# driftreach settings. Origin of each default: [P] published, [C] common practice,")
	fmt.Fprintln(b, "# [A] assumed. A key left out keeps its default; --set key=value wins over this file.")
	if lines := s.Inputs.lines(); len(lines) > 0 {
		fmt.Fprintf(b, "\n[inputs]\n%s\n", strings.Join(lines, "\n"))
	}
	table := ""
	for _, setting := range Table() {
		cut := strings.LastIndexByte(setting.Key, '.')
		if setting.Key[:cut] != table {
			table = setting.Key[:cut]
			fmt.Fprintf(b, "\n[%s]\n", table)
		}
		writeSetting(b, setting, setting.Key[cut+1:], &s)
	}
	if len(s.Plan.Factors) > 0 {
		fmt.Fprint(b, "\n[plan.factors]\n")
		for _, word := range slices.Sorted(maps.Keys(s.Plan.Factors)) {
			fmt.Fprintf(b, "%s = %s\n", tomlText(word), Number(s.Plan.Factors[word]))
		}
	}
	for _, role := range roleNames() {
		writeNames(b, "columns."+role, s.Columns[role])
	}
	for _, role := range roleNames() {
		writeWords(b, "units."+role, s.Units[role])
	}
	for _, field := range slices.Sorted(maps.Keys(s.Values)) {
		writeWords(b, "values."+field, s.Values[field])
	}
	for _, pattern := range slices.Sorted(maps.Keys(s.Files)) {
		f, table := s.Files[pattern], "files."+tomlText(pattern)
		if f.SkipLines > 0 {
			fmt.Fprintf(b, "\n[%s]\nskip_lines = %d\n", table, f.SkipLines)
		}
		writeNames(b, table+".columns", f.Columns)
		writeWords(b, table+".units", f.Units)
		for _, field := range slices.Sorted(maps.Keys(f.Values)) {
			writeWords(b, table+".values."+field, f.Values[field])
		}
	}
	return b.Flush()
}

func writeSetting(w io.Writer, setting Setting, key string, s *Settings) {
	fmt.Fprintf(w, "# %s\n", setting.Meaning)
	allowed := setting.Range()
	if setting.Unit != "" {
		allowed += "; unit: " + setting.Unit
	}
	fmt.Fprintf(w, "# %s %s; %s\n", setting.Origin, setting.Source, allowed)
	fmt.Fprintf(w, "%s = %s\n", key, setting.Value(s))
}

func writeWords(w io.Writer, table string, words map[string]string) {
	if len(words) == 0 {
		return
	}
	fmt.Fprintf(w, "\n[%s]\n", table)
	for _, k := range slices.Sorted(maps.Keys(words)) {
		fmt.Fprintf(w, "%s = %s\n", tomlText(k), tomlText(words[k]))
	}
}

func writeNames(w io.Writer, table string, columns map[string]column.Names) {
	if len(columns) == 0 {
		return
	}
	fmt.Fprintf(w, "\n[%s]\n", table)
	for _, field := range slices.Sorted(maps.Keys(columns)) {
		fmt.Fprintf(w, "%s = %s\n", tomlText(field), quoteNames(columns[field]))
	}
}
