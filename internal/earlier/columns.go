package earlier

// columns finds cells by the names of their columns.
type columns map[string]int

func columnsOf(names []string) columns {
	at := columns{}
	for i, name := range names {
		at[name] = i
	}
	return at
}

// cell returns a cell, or blank if there is no such column.
func (c columns) cell(row []string, name string) string {
	if i, there := c[name]; there && i < len(row) {
		return row[i]
	}
	return ""
}
