package format

// Shorten cuts a text to a length that fits in a message.
func Shorten(s string) string {
	// Our choice: one line of a terminal.
	return ShortenTo(s, 80)
}

// ShortenTo cuts a text after the given number of letters and adds "...". It leaves shorter texts
// alone.
func ShortenTo(s string, most int) string {
	n := 0
	for i := range s {
		if n == most {
			return string([]rune(s[:i])) + "..." // via runes, so that invalid bytes become replacement characters
		}
		n++
	}
	return s
}
