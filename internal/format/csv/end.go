package csv

// lineEnd looks at the first line and returns the byte that ends lines: LF (also for CRLF), or CR for
// files that use CR alone, as old Macs did. Line ends inside quotes are ignored.
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
	if quoted && returned { // an unclosed quote may hide line ends
		return '\r'
	}
	return '\n'
}
