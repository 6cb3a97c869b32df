package intake

// shorten cuts a text to what a message can hold.
func shorten(s string) string {
	// Our choice: one line of a terminal.
	return shortenTo(s, 80)
}

// shortenTo cuts a text to the first letters of it.
func shortenTo(s string, most int) string {
	n := 0
	for i := range s {
		if n == most {
			return string([]rune(s[:i])) + "..." // by way of runes, which puts bytes of no letter right
		}
		n++
	}
	return s
}
