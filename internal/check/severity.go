package check

// String returns the word for s in outputs: error, warning or note.
func (s Severity) String() string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	default:
		return "note"
	}
}

// String returns the finding as one line for a terminal: severity, file, record, field, message and
// remedy.
func (f Finding) String() string {
	line := f.Rule.Severity.String() + ": " + f.File
	for _, part := range []string{f.Record, f.Field} {
		if part != "" {
			line += ", " + part
		}
	}
	line += ": " + f.Message
	if f.Rule.Remedy != "" {
		line += "; " + f.Rule.Remedy
	}
	return line + " [" + f.Rule.Code + "]"
}
