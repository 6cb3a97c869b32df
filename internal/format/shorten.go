package format

// Shorten cuts a text to what a message can hold.
func Shorten(s string) string {
	// Our choice: one line of a terminal.
	return ShortenTo(s, 80)
}

// ShortenTo cuts a text to the first letters of it.
func ShortenTo(s string, most int) string {
	n := 0
	for i := range s {
		if n == most {
			return string([]rune(s[:i])) + "..." // by way of runes, which puts bytes of no letter right
		}
		n++
	}
	return s
}
