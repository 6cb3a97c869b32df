package check

import (
	"fmt"
	"strings"
)

// FirstOf names the first of some words and says how many more there are, such as "a, b and 3 more".
// What stands between them is ", " or "; ".
func FirstOf(words []string, most int, between string) string {
	more := len(words) - most
	if more <= 0 {
		return strings.Join(words, between)
	}
	before := strings.TrimPrefix(between, ",") // no comma before the "and"
	return strings.Join(words[:most], between) + before + fmt.Sprintf("and %d more", more)
}
