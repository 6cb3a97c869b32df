package csv

// lineEnd tells by the end of the first line whether lines end in LF, or CRLF, or
// in CR alone, as on the oldest Macs. Line ends within quotes are none.
func lineEnd(head []byte) byte {
	quoted, returned := false, false
	for i, b := range head {
		switch {
		case b == '"':
			quoted = !quoted
		case b == '\r':
			returned = true
			if !quoted && (i+1 == len(head) || head[i+1] != '\n') {
				return '\r'
			}
		case b == '\n' && !quoted:
			return '\n'
		case b == '\n':
			returned = false
		}
	}
	if quoted && returned { // a lone quote hides what may be lines
		return '\r'
	}
	return '\n'
}
