package settings

import (
	"fmt"
	"strconv"
	"strings"

	"driftreach/internal/column"
)

// quoteNames returns column names as in a settings file: one as a string, several as a list.
func quoteNames(names column.Names) string {
	if len(names) == 1 {
		return tomlText(names[0])
	}
	quoted := make([]string, len(names))
	for i, name := range names {
		quoted[i] = tomlText(name)
	}
	return "[" + strings.Join(quoted, ", ") + "]"
}

// QuoteTOML returns text as a TOML string, for a line of a settings file.
func QuoteTOML(text string) string { return tomlText(text) }

// tomlText quotes text as a TOML basic string, whose escapes are JSON's.
func tomlText(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, "\\u%04X", r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// valueText writes the value that at points to as TOML.
func valueText(at any) string {
	switch v := at.(type) {
	case *string:
		return tomlText(*v)
	case *int:
		return strconv.Itoa(*v)
	case *float64:
		return Number(*v)
	case *[]float64:
		words := make([]string, len(*v))
		for i, x := range *v {
			words[i] = Number(x)
		}
		return "[" + strings.Join(words, ", ") + "]"
	}
	panic(fmt.Sprintf("setting of a kind that cannot be printed: %T", at))
}
